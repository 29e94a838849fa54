"""What a number measures, by the words round it: its slot, or none where nothing tells.

The label right after it tells most, then the one before; then its unit, what it counts, and the
condition that it is said with.
"""

from __future__ import annotations

from collections.abc import Callable

from voicelog.domain.slot import SLOTS
from voicelog.interpret.around import Around
from voicelog.interpret.classes import LABELS
from voicelog.interpret.cover import Item

DISTANCE = "distance"
"""Stands for the slot of a distance to a landmark, which depends on the landmark."""

_COUNTABLE = frozenset(
    (
        "hole", "crack", "soft-spot", "old-repair", "missing-part", "leak", "worn-hole",
        "seized-fixing", "wasted-fixing", "blocked-drain", "blistering", "pitting",
    )
)  # fmt: skip
_COUNTED = ("bolts", "nuts", "clips", "fixings", "studs", "rivets", "screws", "holes", "cracks")
_AWAY = ("from", "off", "away from", "back from", "short of", "clear of", "out from", "in from")
"""Relations that tell a distance even of a number without a unit: "fifty from the box"."""
_MOST_MOUNTS = SLOTS["ordinal"].high
_DEEPEST_PIT_MM = 12.0
"""A pit is no deeper than the thickest frame: a longer length is the pitted area's. Common
practice, no source."""


def slot_of(number: Around) -> str:
    """The slot that the number fills; empty where nothing tells."""
    return next((slot for rule in _RULES if (slot := rule(number))), "")


def label_of(number: Around) -> str:
    """The slot that a label names: one right after it, one before it, then one after a stop."""
    after, following = number.after, number.following
    if _is_metal_left(number):
        return "thickness_mm"
    for label in (after, number.before, following):
        slot = _labelled(label, follows=label is following)
        if slot and _fits(slot, number) and slot not in number.settled:
            return slot
    return ""


def _is_metal_left(number: Around) -> bool:
    """ "One point nine left"; in "a dime in the left sill" the word is a side."""
    word = number.next_word
    left = word is not None and word.slot == "side" and word.text == "left"
    return left and number.measure.quantity in ("length", "number")


def _labelled(label: Item | None, *, follows: bool) -> str:
    """What a label names for its number; a lead speaks only of the number that follows it.

    "Eighty left of a hundred and twenty": metal that remains, then what it was.
    """
    if label is None or label.slot not in LABELS or (follows and label.slot == "lead"):
        return ""
    if label.value == "left":
        return "thickness_mm" if follows else "nominal_mm"
    return label.value


def _fits(slot: str, number: Around) -> bool:
    if slot == "count":
        return number.whole
    percent = number.measure.quantity in ("percent", "area")
    return percent == (SLOTS[slot].kind == "percent")


def _ordinal(number: Around) -> str:
    """ "Mount number two", and "cab mount two": small, right after a name, before no fault."""
    before, after = number.before, number.after
    if before is not None and before.slot == "ordinal":
        return "ordinal"
    named = before is not None and before.slot == "zone"
    faulty = after is not None and after.slot == "condition" and after.value in _COUNTABLE
    small = number.whole and number.measure.value <= _MOST_MOUNTS
    return "ordinal" if named and small and not faulty else ""


def _nominal(number: Around) -> str:
    """ "Four mil new", "down to ninety thou from a hundred and twenty": what it was."""
    word, previous = number.next_word, number.previous
    new = word is not None and word.text == "new"
    comes_from = previous is not None and previous.slot == "relation" and previous.text == "from"
    was = new or (comes_from and "thickness_mm" in number.settled)
    return "nominal_mm" if was and _may_be_thickness(number) else ""


def _distance(number: Around) -> str:
    """ "Six inches from", and "twenty long and fifty from"."""
    if number.after is None or not number.is_distance:
        return ""
    bare = number.measure.quantity == "number" and number.after.text in _AWAY
    return DISTANCE if bare or number.measure.quantity == "length" else ""


def _share(number: Around) -> str:
    """Percents are a loss where something thinned, else an area."""
    if number.measure.quantity not in ("percent", "area"):
        return ""
    lost = any(
        item.value == "thinning" or (item.slot == "label" and item.value == "loss_percent")
        for item in number.flow
    )
    return "loss_percent" if lost else "area_percent"


def _gauge(number: Around) -> str:
    """A sheet's gauge is what it was made with."""
    return "nominal_mm" if number.measure.quantity == "gauge" else ""


def _count(number: Around) -> str:
    """ "Two of the bolts", "two bolts", "two holes": how many, not how large."""
    word, after = number.next_word, number.after
    several = word is not None and (word.text == "of" or word.text in _COUNTED)
    faults = after is not None and after.slot in ("condition", "rot") and after.value in _COUNTABLE
    return "count" if number.whole and (several or faults) else ""


def _thickness(number: Around) -> str:
    """What a gauge reads, or what is said beside what it was, is the metal."""
    if not _may_be_thickness(number) or "thickness_mm" in number.settled:
        return ""
    told = "nominal_mm" in number.settled or (number.condition is None and _is_gauged(number))
    return "thickness_mm" if told and number.measure.quantity in ("length", "number") else ""


def _by_condition(number: Around) -> str:
    quantity, value = number.measure.quantity, number.measure.value
    if number.condition == "thinning" and quantity in ("length", "number"):
        slot = "nominal_mm" if "thickness_mm" in number.settled else "thickness_mm"
        return slot if slot not in number.settled else ""
    if quantity != "length":
        return ""
    deep = number.condition == "pitting" and value <= _DEEPEST_PIT_MM
    return "depth_mm" if deep else "size_mm"


def _may_be_thickness(number: Around) -> bool:
    return number.condition in (None, "thinning")


def _is_gauged(number: Around) -> bool:
    return any(
        item.value == "gauged" or (item.slot in LABELS and item.value == "thickness_mm")
        for item in number.flow
    )


_RULES: tuple[Callable[[Around], str], ...] = (
    _ordinal, label_of, _nominal, _distance, _share, _gauge, _count, _thickness, _by_condition,
)  # fmt: skip
"""Asked in turn; the first that tells decides."""
