"""What befalls the microphone and the speaker."""

from __future__ import annotations

from machine_case import Outcome, Stage, case, pause

ENTRY = "surface rust"
"""What recording d29 says."""
BROKEN_OFF_S = 2.2
"""So far into a recording something happens: half of it was said."""


@case("microphone", "pulled out in mid-sentence, and put back", quick=True)
def unplugged(stage: Stage) -> Outcome:
    """What was said until then is kept; what comes after is heard again."""
    run = stage.lines()
    run.say("d17")
    pause(BROKEN_OFF_S)
    run.card("lose")
    run.until("[No microphone]")
    run.card("give-back")
    run.until_heard("tone microphone-back")
    stage.goes_on(run)
    return stage.judge(
        run, code=0, kept=["d29"], types=["gap"],
        heard=["tone microphone-lost", "is gone", "tone microphone-back", "say again what was said"],
        seen=["[No microphone] its stream has stopped", "s of sound were lost"],
    )  # fmt: skip


@case("microphone", "pulled out, and never put back")
def unplugged_for_good(stage: Stage) -> Outcome:
    """Typed words are taken meanwhile."""
    run = stage.screen()
    run.card("lose")
    run.until("its stream has stopped")
    run.type("t")
    pause(0.5)
    run.type("left sill, surface rust\r")
    run.until_heard("tone finding")
    run.type("\x1b")
    run.until_gone("Leave the line")
    run.type("qq")
    return stage.judge(
        run, code=0, types=["utterance"], heard=["tone microphone-lost", "nothing is heard until"],
        seen=["its stream has stopped"],
    )  # fmt: skip


@case("microphone", "there, but silent without a word of its driver (no callback), and going on")
def stalled(stage: Stage) -> Outcome:
    """Missed by its silence."""
    run = stage.lines()
    run.card("stall")
    run.until("[No microphone]")
    run.card("stall no")
    run.until_heard("tone microphone-back")
    stage.goes_on(run)
    return stage.judge(
        run, code=0, kept=["d29"], types=["gap"],
        heard=["tone microphone-lost", "tone microphone-back"],
        seen=["[No microphone] it has given nothing for 2 s"],
    )  # fmt: skip


@case("microphone", "overflow: 1.5 s lost in mid-sentence", quick=True)
def overflow(stage: Stage) -> Outcome:
    """Both halves are kept, and are never glued together."""
    run = stage.lines()
    run.say("d17")
    pause(BROKEN_OFF_S)
    run.card("overflow 1.5")
    run.until("were lost")
    run.until_heard("were lost")
    stage.goes_on(run)
    return stage.judge(
        run, code=0, kept=["d29"], types=["gap"],
        heard=["tone microphone-back", "1.5 seconds of sound were lost"],
        seen=["! 1.5 s of sound were lost: the device had no room left to keep it"],
    )  # fmt: skip


@case("microphone", "refuses the rate that it says is its own, and 16 kHz too (takes 48 kHz)")
def other_rate(stage: Stage) -> Outcome:
    """Opened as it likes, and converted."""
    run = stage.lines(host=["--says-hz", "44100", "--rate-hz", "48000"])
    stage.goes_on(run)
    return stage.judge(run, code=0, types=["utterance"], heard=["tone finding"], seen=[ENTRY])


@case("microphone", "lies about its rate (says 48 kHz, gives 16 kHz)")
def lying_rate(stage: Stage) -> Outcome:
    """Speech three times too fast: no word of it can be made out, which has to be said."""
    run = stage.lines(host=["--rate-hz", "48000", "--gives-hz", "16000"])
    run.until_heard("samples a second")
    run.type("q\n")
    return stage.judge(
        run, code=0, heard=["tone refused", "samples a second"],
        seen=["samples a second where it says 48,000: choose another"],
    )  # fmt: skip


@case("microphone", "all zeros: switched off at its own button, and on again", quick=True)
def muted(stage: Stage) -> Outcome:
    """A real microphone gives noise even in a quiet room."""
    run = stage.lines()
    run.card("mute")
    run.until("[No microphone]")
    run.card("mute no")
    run.until_heard("tone microphone-back")
    stage.goes_on(run)
    return stage.judge(
        run, code=0, kept=["d29"], types=["gap"],
        heard=["tone microphone-lost", "digital silence", "tone microphone-back"],
        seen=["it gives nothing but digital silence: is it switched off, or muted?"],
    )  # fmt: skip


@case("microphone", "overdriven: three sentences clipped (gain +30 dB)")
def clipped(stage: Stage) -> Outcome:
    """Kept and read as well as it goes; said aloud once, because nobody looks at a meter."""
    run = stage.lines()
    run.card("loud 30")
    for count, name in enumerate(("d29", "d35", "d29"), 1):
        run.say(name)
        run.until_heard("tone finding", count)
    run.until_heard("overdriven")
    run.type("q\n")
    return stage.judge(
        run, code=0, types=["utterance"], heard=["tone too-loud", "the microphone is overdriven"],
        seen=["! The microphone is overdriven"],
    )  # fmt: skip


@case("microphone", "gives samples that are no numbers (NaN), then sound again")
def rubbish(stage: Stage) -> Outcome:
    """Taken for silence."""
    run = stage.lines()
    run.card("rubbish yes")
    run.until("[No microphone]")
    run.card("rubbish no")
    run.until_heard("tone microphone-back")
    stage.goes_on(run)
    return stage.judge(
        run, code=0, kept=["d29"], types=["gap"], heard=["tone microphone-lost"],
        seen=["[No microphone]"],
    )  # fmt: skip


@case("microphone", "none there when it starts")
def none_there(stage: Stage) -> Outcome:
    """Told before anything is written."""
    run = stage.start("--microphone", "lapel")
    return stage.judge(run, code=6, seen=["voicelog:", "microphone"], last="")


@case("microphone", "no PortAudio on this machine")
def no_portaudio(stage: Stage) -> Outcome:
    """Told before anything is written, with what to install."""
    run = stage.start(host=["--without-portaudio"])
    return stage.judge(run, code=6, seen=["sounddevice", "pip install sounddevice"], last="")


@case("speaker", "unplugged, and put back")
def speaker_lost(stage: Stage) -> Outcome:
    """Entries are made as ever; the screen says that nobody can hear it."""
    run = stage.lines()
    run.card("lose-speaker")
    run.until("The speaker Workbench speaker is lost")
    run.say("d29")
    run.until(ENTRY)
    run.card("give-back-speaker")
    pause(6.0)
    run.type("left sill, surface rust\n")
    run.until("left sill —")
    run.type("q\n")
    return stage.judge(
        run, code=0, kept=["d29"], heard=["unheard finding", "tone finding"],
        seen=["! The speaker Workbench speaker is lost: it was unplugged or switched off"],
    )  # fmt: skip


@case("speaker", "none there when it starts")
def no_speaker(stage: Stage) -> Outcome:
    """Said once; nothing else changes."""
    run = stage.lines(host=["--mute-house"])
    stage.goes_on(run)
    return stage.judge(run, code=0, kept=["d29"], heard=["unheard finding"], seen=["speaker"])
