"""What the system, or a hand on the keyboard, wants of the process."""

from __future__ import annotations

import signal

from machine_case import Outcome, Stage, case, pause

GOES_ON = "To go on: voicelog start --resume"


def _spoken(stage: Stage, number: int, times: int = 1, *, screen: bool = False) -> Outcome:
    """Somebody is in mid-sentence when a signal comes."""
    run = stage.screen() if screen else stage.lines()
    run.say("d17")
    pause(3.5)
    for _ in range(times):
        run.signal(number)
        pause(0.05)
    heard = [] if number == signal.SIGINT else ["tone microphone-lost", "voicelog has stopped"]
    return stage.judge(run, code=0, kept=["d17"], types=["utterance"], heard=heard, seen=[GOES_ON])


@case("signals", "SIGTERM in mid-sentence", quick=True)
def terminated(stage: Stage) -> Outcome:
    """The system shuts down."""
    return _spoken(stage, signal.SIGTERM)


@case("signals", "SIGTERM in mid-sentence, with the screen")
def terminated_screen(stage: Stage) -> Outcome:
    """The terminal is given back."""
    outcome = _spoken(stage, signal.SIGTERM, screen=True)
    return _given_back(stage, outcome)


@case("signals", "SIGHUP in mid-sentence")
def hung_up(stage: Stage) -> Outcome:
    """Whoever started it has logged out."""
    return _spoken(stage, signal.SIGHUP)


@case("signals", "Ctrl-C in mid-sentence (SIGINT)")
def interrupted(stage: Stage) -> Outcome:
    """As if it had been stopped by key."""
    return _spoken(stage, signal.SIGINT)


@case("signals", "Ctrl-C five times in a quarter of a second", quick=True)
def interrupted_often(stage: Stage) -> Outcome:
    """Impatience costs nothing."""
    return _spoken(stage, signal.SIGINT, 5)


@case("signals", "SIGINT in mid-sentence, with the screen")
def interrupted_screen(stage: Stage) -> Outcome:
    """Not from a key, which the screen reads itself."""
    return _given_back(stage, _spoken(stage, signal.SIGINT, screen=True))


@case("signals", "Ctrl-C on the screen, once")
def key_once(stage: Stage) -> Outcome:
    """A slip of the hand ends nothing; it says how to leave."""
    run = stage.screen()
    run.type("\x03")
    run.until("Press the same key again within 3 s")
    pause(3.2)
    run.say("d29")
    run.until_heard("tone finding")
    run.type("\x03")
    pause(0.1)
    run.type("\x03")
    outcome = stage.judge(
        run, code=0, kept=["d29"], heard=["tone finding"],
        seen=["Press the same key again within 3 s to stop; it can be gone on with", GOES_ON],
    )  # fmt: skip
    return _given_back(stage, outcome)


@case("signals", "SIGTERM while the ear is loaded, before there is a log")
def terminated_early(stage: Stage) -> Outcome:
    """Nothing was said: nothing is left behind."""
    run = stage.start()
    run.until("[Starting]")
    run.signal(signal.SIGTERM)
    code = run.end()
    logs = [path.name for path in stage.logs.glob("*")] if stage.logs.exists() else []
    last = "stopped" if logs else ""
    return stage.judge(run, code=0 if code == 0 else code, last=last)


@case("signals", "SIGTERM while the cautions are read out")
def terminated_in_cautions(stage: Stage) -> Outcome:
    """A log without a word is still in order."""
    run = stage.start()
    run.until("Before you begin")
    run.signal(signal.SIGTERM)
    return stage.judge(run, code=0, seen=[GOES_ON])


@case("signals", "stopped (Ctrl-Z, SIGTSTP) for 4 s while nobody speaks, and continued", quick=True)
def suspended(stage: Stage) -> Outcome:
    """What was said meanwhile is lost, which it says."""
    run = stage.lines()
    return _stopped(stage, run)


@case("signals", "stopped and continued, with the screen")
def suspended_screen(stage: Stage) -> Outcome:
    """The terminal is given back meanwhile, and drawn anew after."""
    run = stage.screen()
    return _given_back(stage, _stopped(stage, run))


def _stopped(stage: Stage, run: object) -> Outcome:
    from machine_run import Running

    assert isinstance(run, Running)
    run.stop()
    pause(4.0)
    run.signal(signal.SIGCONT)
    run.until_heard("say again what was said")
    run.say("d29")
    run.until_heard("tone finding")
    run.type("qq" if run.glass.alone else "q\n")
    return stage.judge(
        run, code=0, kept=["d29"], types=["gap"],
        heard=["tone microphone-back", "say again what was said"], seen=["of sound were lost"],
    )  # fmt: skip


@case("signals", "the lid is closed for 300 s: the machine sleeps", quick=True)
def lid(stage: Stage) -> Outcome:
    """The program's own clock stands still in a sleep and knows of nothing."""
    run = stage.lines()
    run.card("sleep 300")
    run.until_heard("300 seconds of sound were lost")
    stage.goes_on(run)
    return stage.judge(
        run, code=0, kept=["d29"], types=["gap"],
        heard=["tone microphone-back", "300 seconds of sound were lost"],
        seen=["300.0 s of sound were lost: the machine was asleep"],
    )  # fmt: skip


def _given_back(stage: Stage, outcome: Outcome) -> Outcome:
    from dataclasses import replace

    kept = ("the terminal was not given back",) if stage.runs[-1].glass.alone else ()
    return replace(outcome, faults=(*outcome.faults, *kept))
