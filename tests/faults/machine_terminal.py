"""What befalls the terminal."""

from __future__ import annotations

import os

from machine_case import CAUTIONS, Outcome, Stage, case, pause
from machine_run import COLUMNS, LINES

TINY = 1
HOSTILE = "\x1b]0;owned\x07\x1b[31m\u202egnp\u202c<b>&[red]%s\u200b\x9b2J\x07"
"""The title of a window, a colour, text from right to left, markup, an escape in one character."""


@case("terminal", "dragged to 1 × 1 in mid-sentence, and back", quick=True)
def tiny(stage: Stage) -> Outcome:
    """Nothing depends on the size."""
    run = stage.screen()
    run.say("d29")
    pause(1.0)
    run.resize(TINY, TINY)
    run.until_heard("tone finding")
    run.resize(COLUMNS, LINES)
    run.until("surface rust")
    run.until("TIME")
    run.type("qq")
    return stage.judge(run, code=0, kept=["d29"], heard=["tone finding"], seen=["surface rust"])


@case("terminal", "closed in mid-sentence (its line hangs up)", quick=True)
def closed(stage: Stage) -> Outcome:
    """The half sentence is kept."""
    run = stage.screen()
    run.say("d17")
    pause(3.5)
    run.hang_up()
    return stage.judge(
        run, code=129, kept=["d17"], types=["utterance"], heard=["voicelog has stopped"]
    )


@case("terminal", "none: the output goes to a file, the input is empty")
def none(stage: Stage) -> Outcome:
    """Lines in place of a screen, without asking; it listens to what is said."""
    run = stage.start(stdin="null", plain=False)
    run.until(CAUTIONS)
    run.say("d29")
    run.until("surface rust")
    run.signal(15)
    return stage.judge(run, code=0, kept=["d29"], heard=["tone finding"], seen=[CAUTIONS])


@case("terminal", "one that cannot move its cursor (TERM=dumb)")
def dumb(stage: Stage) -> Outcome:
    """Lines, and no control sequence in them."""
    run = stage.start(plain=False, screen=True, more={"TERM": "dumb"})
    run.until(CAUTIONS)
    run.type("a\r")
    run.until("[Listening]")
    run.say("d29")
    run.until("surface rust")
    run.type("q\r")
    outcome = stage.judge(run, code=0, kept=["d29"], heard=["tone finding"], seen=["[Listening]"])
    return _without_escapes(outcome, run.text)


@case("terminal", "standard input closed before the start")
def no_stdin(stage: Stage) -> Outcome:
    """As without a keyboard."""
    run = stage.start(stdin="closed", plain=False)
    run.until(CAUTIONS)
    run.say("d29")
    run.until("surface rust")
    run.signal(15)
    return stage.judge(run, code=0, kept=["d29"], heard=["tone finding"], seen=[CAUTIONS])


@case("terminal", "standard input closed while it runs")
def stdin_ends(stage: Stage) -> Outcome:
    """No keys any more; the voice goes on."""
    run = stage.lines()
    os.close(run.hands())
    run.say("d29")
    run.until("surface rust")
    run.signal(15)
    return stage.judge(run, code=0, kept=["d29"], heard=["tone finding"], seen=["surface rust"])


@case("terminal", "whoever read the output has gone (a pipe that broke)", quick=True)
def pipe_breaks(stage: Stage) -> Outcome:
    """What was said is on disk before it is shown; it ends in order."""
    run = stage.lines()
    run.hang_up()
    run.say("d29")
    run.until_heard("tone finding")
    return stage.judge(run, code=141, kept=["d29"], heard=["tone finding", "voicelog has stopped"])


@case(
    "terminal",
    "a full screen of hostile text: control sequences, markup, right-to-left",
)
def hostile(stage: Stage) -> Outcome:
    """Shown as harmless characters."""
    run = stage.screen("--subject", HOSTILE[:20] + "rig")
    run.type("t")
    pause(0.5)
    for _ in range(12):
        run.type(f"\x1b[200~left sill surface rust {HOSTILE}\x1b[201~\r")
        pause(0.2)
    run.until_heard("tone doubtful", 6)
    pause(0.5)
    run.type("\x1b")
    run.until_gone("Leave the line")
    run.type("qq")
    outcome = stage.judge(run, code=0, heard=["tone doubtful"], seen=["surface rust"])
    return _without_escapes(outcome, "".join(run.glass.refused))


@case("terminal", "the same in plain lines")
def hostile_lines(stage: Stage) -> Outcome:
    """Nothing but printable characters comes out, but for its own colours."""
    run = stage.lines("--subject", HOSTILE[:20] + "rig")
    for _ in range(5):
        run.type(f"left sill surface rust {HOSTILE}\n")
    run.until_heard("tone doubtful", 5)
    run.type("q\n")
    outcome = stage.judge(run, code=0, heard=["tone doubtful"], seen=["surface rust"])
    return _without_escapes(outcome, run.text)


def _without_escapes(outcome: Outcome, text: str) -> Outcome:
    from dataclasses import replace

    bad = [name for name in ("\x1b", "\x9b", "\x07", "\u202e") if name in text]
    return replace(outcome, faults=(*outcome.faults, *(f"{sign!r} came out" for sign in bad)))
