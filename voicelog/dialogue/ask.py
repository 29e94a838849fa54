"""A question of the tool: what it is about, and how long it waits for its answer."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from voicelog.domain.entry import Change
from voicelog.domain.slot import Slots


class What(StrEnum):
    """What is asked, and so what answers it."""

    CONFIRM = "confirm"
    """Is the entry right? *Affirm* settles its doubts, *negative* takes it back."""
    INSTEAD = "instead"
    """Was the next best reading meant? *Affirm* makes it the entry, *negative* takes it back."""
    SLOT = "slot"
    """Which of the options? One of them answers; of a spelled number *affirm* keeps it as heard."""
    FINISH = "finish"
    """Is the inspection over? Only *affirm* ends it."""
    LOWER = "lower"
    """Why should an unsafe entry be called less? The reason first, then *affirm*."""
    SECOND = "second"
    """Is what a second ear heard right? *Affirm* takes it over; anything else leaves the entry as it
    is, in doubt."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One question; there is never more than one open.

    Args:
        what: is asked.
        about: id of the entry; empty where it is about the inspection.
        slot: the slot that is open (slot).
        options: its values (slot).
        instead: the slots that the next best reading gives the entry; empty where there is none
            to offer (confirm, instead).
        grade: what the entry would be called (lower).
        reason: why, as far as it was said (lower).
        changes: what *affirm* does (second).
    """

    what: What
    about: str = ""
    slot: str = ""
    options: tuple[str, ...] = ()
    instead: Slots = field(default_factory=dict)
    grade: str = ""
    reason: str = ""
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True)
class AskPolicy:
    """How the tool asks.

    Args:
        ask_s: seconds in which a question can be answered. 8 s are ours.
    """

    ask_s: float = 8.0
