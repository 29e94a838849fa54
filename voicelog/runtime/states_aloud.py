"""What the tool says of itself: standing by, a lost microphone, noise, the disk, a lapsed question."""

from __future__ import annotations

from collections.abc import Iterable

from voicelog.dialogue.ask import Ask, What
from voicelog.domain.inert import inert
from voicelog.tongue import joined, worded

_LONGEST = 60
"""Characters of a device's name, or of a reason from outside, that are said."""


def cautions(told: Iterable[str]) -> str:
    """What is to be heeded before anything is touched (from the rules), and how to go on."""
    return joined(" ", (*map(inert, told), worded("Affirm when that is done.")))


def standing_by(resume: str) -> str:
    """Nothing is kept, and how that ends."""
    if resume:
        return worded("standing by; say {resume} to go on", resume=inert(resume))
    return worded("standing by")


def listening() -> str:
    """It hears what is said from now on."""
    return worded("listening")


def microphone_lost(device: str, why: str = "") -> str:
    """No sound comes in any more."""
    device, why = inert(device, _LONGEST), inert(why, _LONGEST)
    if why:
        return worded(
            "the microphone {device} is gone: {why}; nothing is heard until it is back",
            device=device,
            why=why,
        )
    return worded(
        "the microphone {device} is gone; nothing is heard until it is back", device=device
    )


def microphone_back(device: str, away_s: float = 0.0) -> str:
    """Sound comes in again; what was said meanwhile is lost."""
    device = inert(device, _LONGEST)
    if away_s >= 1:
        return worded(
            "the microphone {device} is back after {seconds} seconds; say again what was said meanwhile",
            device=device,
            seconds=f"{away_s:.0f}",
        )
    return worded(
        "the microphone {device} is back; say again what was said meanwhile", device=device
    )


def sound_lost(lost_s: float) -> str:
    """Something that was said may be missing."""
    lost = f"{lost_s:.1f}".removesuffix(".0")
    if lost_s > 0:
        return worded(
            "{seconds} seconds of sound were lost; say again what was said just now", seconds=lost
        )
    return worded("some sound was lost; say again what was said just now")


def wrong_rate(device: str) -> str:
    """No word can be made out."""
    return worded(
        "the microphone {device} gives the wrong number of samples a second; its words cannot be"
        " made out. Choose another",
        device=inert(device, _LONGEST),
    )


def overdriven() -> str:
    """Words suffer most from it."""
    return worded("the microphone is overdriven; turn it down, or hold it further away")


def ear_failed() -> str:
    """Nothing is lost, but nothing was understood either."""
    return worded("the ear failed; what was said is kept as sound. Stop, and start again")


def stopped() -> str:
    """Something has ended it, and nobody would know who does not look at the screen."""
    return worded("voicelog has stopped, and nothing is heard any more; what was said is kept")


def too_loud() -> str:
    """Said once; then the tool is silent until it clears."""
    return worded("too loud to hear words; wait, or come closer")


def clear_again() -> str:
    """The noise has gone."""
    return worded("quiet enough again, listening")


def disk_refuses(step: str) -> str:
    """What was said last is not safe yet, and what to do (from the fault: a full disk wants another
    step than a broken one).
    """
    return worded(
        "the disk refuses; what was said last is not kept yet. It is tried again. {step}",
        step=inert(step),
    )


def disk_slow(took_s: float) -> str:
    """Everything is kept, and every tone comes late."""
    return worded(
        "the disk is slow: it needed {seconds} seconds to keep that. Nothing is lost; wait for the"
        " tone before you rely on it",
        seconds=f"{took_s:.0f}",
    )


def disk_takes_again() -> str:
    """Nothing was lost."""
    return worded("the disk takes it again, and everything said is kept")


def lapsed(ask: Ask) -> str:
    """Nobody answered in time."""
    told = closed(ask, "lapsed")
    return worded("no answer; {outcome}", outcome=told) if told else ""


def closed(ask: Ask | None, answered: str) -> str:
    """What became of a question, where the entries that changed do not tell it.

    Args:
        ask: the question; None where none was closed.
        answered: ``affirm``, ``negative``, ``answered`` or ``lapsed``.
    """
    if ask is None or answered == "answered":
        return ""
    match ask.what, answered:
        case What.LOWER, "affirm":
            return worded(
                "kept as your word: {grade}. The verdict goes by the worse of the two",
                grade=ask.grade,
            )
        case What.LOWER, _:
            return worded("unsafe stays")
        case What.FINISH, "negative" | "lapsed":
            return worded("the inspection goes on")
        case What.SLOT, "negative":
            return worded("it stays doubtful")
        case What.SECOND, "negative" | "lapsed":
            return worded("it stays as it was, and doubtful")
        case ((What.SLOT | What.CONFIRM | What.INSTEAD), "lapsed"):
            return worded("it stays doubtful")
    return ""
