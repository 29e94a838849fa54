"""Which slots of an entry a misheard word can carry, and what phrases say about them."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.domain.reading import Phrase, Statement
from voicelog.domain.slot import SlotValue
from voicelog.interpret.classes import QUIET
from voicelog.interpret.cover import Item

CLASSES: Mapping[str, tuple[str, ...]] = {
    "zone": ("zone", "family"),
    "condition": ("condition", "rust", "rot"),
    "side": ("side", "kerb", "seat"),
    "probe": ("probe",),
    "face": ("face",),
    "part": ("part",),
    "layer": ("layer",),
    "method": ("method",),
    "surround": ("surround",),
    "spoken_grade": ("spoken_grade",),
}
"""Slots that single words carry, and the classes of the phrases that say them."""

ASKED = ("kerb", "seat")
"""Classes whose side hangs on the speaker: only reading tells."""

IDLE = frozenset((
    *QUIET, "join", "relation", "ignore", "hedge", "contrast", "pronoun", "tag", "past", "address",
    "question", "hypothetical", "obstacle", "end", "label", "lead",
))  # fmt: skip
"""Classes that a misheard phrase may hold without anything understood being lost."""


def is_hearable(item: Item) -> bool:
    """It says something about a slot that a misheard word can carry."""
    return any(item.slot in classes for classes in CLASSES.values())


def says(item: Item | Phrase, slot: str, value: SlotValue) -> bool:
    """The words say just that at their face value."""
    if item.slot == "family" and slot == "zone":
        return str(value) in item.value.split("+")
    direct = item.slot in CLASSES[slot] and item.slot not in ASKED and item.value == value
    return direct or item.also.get(slot) == value


def is_there(item: Item, slot: str, value: SlotValue) -> bool:
    """The slot is said already; a name that several places share only asks which."""
    asked = slot == "side" and item.slot in ASKED
    return item.slot != "family" and (asked or says(item, slot, value))


def may_say(phrase: Phrase, slot: str, value: SlotValue) -> bool:
    """A person says it, and it may mean that."""
    asked = slot == "side" and phrase.slot in ASKED
    return not phrase.misheard and (asked or says(phrase, slot, value))


def told(statement: Statement, slot: str, value: SlotValue) -> bool:
    """It says the value, or asks which of several is meant, that one among them."""
    options = (q.options for q in statement.questions if q.slot == slot)
    return statement.slots.get(slot) == value or any(value in each for each in options)
