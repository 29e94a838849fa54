"""What befalls the ears."""

from __future__ import annotations

from machine_case import Outcome, Stage, case

SECOND = "The inspection goes on with one ear"
UNSAFE = "d05"
"""A recording that is worth a second ear: a crack, in doubt."""


@case("ear", "its model is not installed", quick=True)
def missing(stage: Stage) -> Outcome:
    """Told before anything is written, with the command that installs it."""
    run = stage.start(host=["--without-ear"])
    return stage.judge(run, code=6, seen=['pip install "voicelog[ear]"'], last="")


@case("ear", "one bit of its model is turned over", quick=True)
def altered(stage: Stage) -> Outcome:
    """Refused by its checksum."""
    run = stage.start(host=["--altered-ear"])
    return stage.judge(
        run, code=6, seen=["decoder_model_merged.ort", "Install it anew"], last=""
    )  # fmt: skip


@case("ear", "its native library fails in mid-inspection, and goes on failing", quick=True)
def breaks(stage: Stage) -> Outcome:
    """What is said is kept as sound, to be heard again later; keys and typed words go on."""
    run = stage.lines(host=["--ear-breaks", "1"])
    run.say("d29")
    run.until_heard("the ear failed")
    run.type("left sill, surface rust\n")
    run.until_heard("tone finding")
    run.type("q\n")
    return stage.judge(
        run, code=0, kept=["d29"], types=["utterance"],
        heard=["tone refused", "the ear failed; what was said is kept as sound"],
        seen=["! The ear failed"],
    )  # fmt: skip


@case("ear", "the second ear's process dies with the first utterance")
def second_dies(stage: Stage) -> Outcome:
    """The first ear's word counts."""
    return _second(stage, "crash", "The second ear crashed")


@case("ear", "the second ear's process hangs with the first utterance", quick=True)
def second_hangs(stage: Stage) -> Outcome:
    """Ended when its time is over; nobody waited for it."""
    return _second(stage, "hang", "The second ear does not answer")


def _second(stage: Stage, fate: str, told: str) -> Outcome:
    run = stage.lines("--second-ear", "auto", host=["--second", fate])
    run.say(UNSAFE)
    run.until_heard("tone unsafe")
    run.until(SECOND)
    stage.goes_on(run)
    return stage.judge(
        run, code=0, kept=[UNSAFE, "d29"], heard=["tone unsafe"], seen=[told, SECOND]
    )
