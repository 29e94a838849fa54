"""What the tool says of itself: standing by, a lost microphone, noise, the disk, a lapsed question."""

from __future__ import annotations

from collections.abc import Iterable

from voicelog.dialogue.ask import Ask, What
from voicelog.domain.inert import inert

_LONGEST = 60
"""Characters of a device's name, or of a reason from outside, that are said."""


def cautions(told: Iterable[str]) -> str:
    """What is to be heeded before anything is touched (from the rules), and how to go on."""
    return " ".join((*map(inert, told), "Affirm when that is done."))


def standing_by(resume: str) -> str:
    """Nothing is kept, and how that ends."""
    return f"standing by; say {inert(resume)} to go on" if resume else "standing by"


def listening() -> str:
    """It hears what is said from now on."""
    return "listening"


def microphone_lost(device: str, why: str = "") -> str:
    """No sound comes in any more."""
    reason = f": {inert(why, _LONGEST)}" if why else ""
    return f"the microphone {inert(device, _LONGEST)} is gone{reason}; nothing is heard until it is back"


def microphone_back(device: str, away_s: float = 0.0) -> str:
    """Sound comes in again; what was said meanwhile is lost."""
    after = f" after {away_s:.0f} seconds" if away_s >= 1 else ""
    return f"the microphone {inert(device, _LONGEST)} is back{after}; say again what was said meanwhile"


def sound_lost(lost_s: float) -> str:
    """Something that was said may be missing."""
    lost = f"{lost_s:.1f}".removesuffix(".0")
    told = f"{lost} seconds of sound were lost" if lost_s > 0 else "some sound was lost"
    return f"{told}; say again what was said just now"


def wrong_rate(device: str) -> str:
    """No word can be made out."""
    return (
        f"the microphone {inert(device, _LONGEST)} gives the wrong number of samples a second; its"
        " words cannot be made out. Choose another"
    )


def overdriven() -> str:
    """Words suffer most from it."""
    return "the microphone is overdriven; turn it down, or hold it further away"


def ear_failed() -> str:
    """Nothing is lost, but nothing was understood either."""
    return "the ear failed; what was said is kept as sound. Stop, and start again"


def stopped() -> str:
    """Something has ended it, and nobody would know who does not look at the screen."""
    return "voicelog has stopped, and nothing is heard any more; what was said is kept"


def too_loud() -> str:
    """Said once; then the tool is silent until it clears."""
    return "too loud to hear words; wait, or come closer"


def clear_again() -> str:
    """The noise has gone."""
    return "quiet enough again, listening"


def disk_refuses(step: str) -> str:
    """What was said last is not safe yet, and what to do (from the fault: a full disk wants another
    step than a broken one).
    """
    return f"the disk refuses; what was said last is not kept yet. It is tried again. {inert(step)}"


def disk_slow(took_s: float) -> str:
    """Everything is kept, and every tone comes late."""
    return (
        f"the disk is slow: it needed {took_s:.0f} seconds to keep that. Nothing is lost; wait for the"
        " tone before you rely on it"
    )


def disk_takes_again() -> str:
    """Nothing was lost."""
    return "the disk takes it again, and everything said is kept"


def lapsed(ask: Ask) -> str:
    """Nobody answered in time."""
    told = closed(ask, "lapsed")
    return f"no answer; {told}" if told else ""


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
            return f"kept as your word: {ask.grade}. The verdict goes by the worse of the two"
        case What.LOWER, _:
            return "unsafe stays"
        case What.FINISH, "negative" | "lapsed":
            return "the inspection goes on"
        case What.SLOT, "negative":
            return "it stays doubtful"
        case What.SECOND, "negative" | "lapsed":
            return "it stays as it was, and doubtful"
        case ((What.SLOT | What.CONFIRM | What.INSTEAD), "lapsed"):
            return "it stays doubtful"
    return ""
