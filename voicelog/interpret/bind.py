"""Numbers to slots: sizes, depths, thicknesses, counts and distances, in millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from voicelog.domain.reading import Speech
from voicelog.domain.slot import SLOTS, SlotValue, plausible
from voicelog.domain.slot_title import number_title
from voicelog.interpret.around import Around, measures_of
from voicelog.interpret.cover import Item
from voicelog.interpret.labels import DISTANCE, label_of, slot_of
from voicelog.interpret.measures import Measure

_MOST_BARE = 2
"""Numbers that nothing explains, of which the last may be meant ("fifteen, might be sixteen"); more of them
in a row are a telephone number, or a lottery's.
"""


@dataclass(slots=True)
class Bound:
    """What the numbers of a draft say.

    Args:
        slots: slot name to value, lengths in mm.
        bare: a number that nothing explains.
        bare_unit_mm: mm in the unit said with it, None if none was said.
        bares: how many such numbers there are.
        ranges: slots said as a range, with both ends in the slot's unit.
        distances: the measure that is the distance to a landmark, by the first token of the
            relation ("from") between them.
    """

    slots: dict[str, SlotValue] = field(default_factory=dict)
    bare: float | None = None
    bare_unit_mm: float | None = None
    bares: int = 0
    ranges: dict[str, tuple[float, float]] = field(default_factory=dict)
    distances: dict[int, Measure] = field(default_factory=dict)


def bind(
    items: Sequence[Item], numbers: Sequence[Item], condition: str | None, speech: Speech
) -> Bound:
    """The slots of the measures among ``numbers``, seen in the order of ``items``.

    Args:
        items: every item of the draft.
        numbers: its measures, labels and a "left" that means metal remaining.
        condition: the draft's condition, if it has one.
        speech: units to fall back on.
    """
    bound = Bound()
    measures = list(measures_of(items, numbers, condition, bound.slots))
    unit_mm = _shared_unit_mm(measures, speech)
    for number in sorted(measures, key=lambda number: not label_of(number)):
        _settle(number, unit_mm, bound)  # labelled ones first: the rest know what is still open
    lone = "width_mm" in bound.slots and "size_mm" not in bound.slots
    if lone and condition in (None, "hole"):
        bound.slots["size_mm"] = bound.slots.pop("width_mm")  # "a hole an inch wide"
    if bound.bares > _MOST_BARE:
        bound.bare = None
    return bound


def implausible(slots: Mapping[str, SlotValue]) -> tuple[str, ...]:
    """Numbers outside their slot's plausible bounds, as doubts in plain words."""
    return tuple(
        f"{number_title(name, value)} is out of the ordinary"
        for name, value in slots.items()
        if not isinstance(value, str) and not plausible(name, value)
    )


def _shared_unit_mm(measures: Sequence[Around], speech: Speech) -> float:
    """The unit for bare numbers: the first said with a length that is no distance."""
    for number in measures:
        unit_mm = number.measure.unit_mm
        if unit_mm and number.measure.quantity == "length" and not number.is_distance:
            return unit_mm
    return speech.unit_mm


def _settle(number: Around, unit_mm: float, bound: Bound) -> None:
    slot = slot_of(number)
    if slot == DISTANCE:
        bound.distances[_relation(number).start] = _in_mm(number.measure, unit_mm)
    elif slot and (slot, number.measure.value) != ("count", 1):
        _put(bound, slot, number, unit_mm)
    elif not slot and number.item.text != "one" and not _counts_else(number):
        _keep_bare(bound, number, unit_mm)


def _in_mm(measure: Measure, unit_mm: float) -> Measure:
    """A length without its unit ("and fifty from the box") in that of the others."""
    bare = measure.quantity == "number"
    return replace(measure, value=measure.value * unit_mm) if bare else measure


def _relation(number: Around) -> Item:
    return next(item for item in number.flow[number.at :] if item.slot == "relation")


def _counts_else(number: Around) -> bool:
    """ "Two halves", "half gone": a small bare number before other words counts those."""
    measure, word = number.measure, number.next_word
    if measure.unit_mm is not None or measure.by is not None:
        return False
    counted = word is not None and word.slot in ("unknown", "filler", "rot")
    return counted or (measure.fraction and measure.value < 1)


def _keep_bare(bound: Bound, number: Around, unit_mm: float) -> None:
    """A number for what is being corrected; a size too, where that is sensible."""
    measure = number.measure
    bound.bare, bound.bare_unit_mm = float(measure.number), measure.unit_mm
    bound.bares += 1
    if measure.low is not None:
        low = measure.low / (measure.unit_mm or 1.0)
        bound.ranges["bare_number"] = round(low, 4), bound.bare
    if number.condition is not None or measure.unit_mm is not None or measure.by is not None:
        _put(bound, "size_mm", number, unit_mm)


def _put(bound: Bound, slot: str, number: Around, unit_mm: float) -> None:
    measure = number.measure
    value = _scaled(measure, measure.value, slot, unit_mm)
    if slot == "size_mm" and slot in bound.slots:
        _put_both(bound, float(bound.slots[slot]), value, of_one=not _is_another(number, bound))
        return
    bound.slots[slot] = value
    if measure.low is not None:
        _put_range(bound, slot, _scaled(measure, measure.low, slot, unit_mm), value)
    if measure.by is not None and slot == "size_mm":
        by_mm = measure.by if measure.unit_mm is not None else measure.by * unit_mm
        _put_both(bound, value, round(by_mm, 4))


def _put_both(bound: Bound, one_mm: float, other_mm: float, *, of_one: bool = True) -> None:
    """ "Six by four": the larger is the size, the smaller the width if both are of one fault."""
    bound.slots["size_mm"] = max(one_mm, other_mm)
    if of_one:
        bound.slots["width_mm"] = min(one_mm, other_mm)


def _is_another(number: Around, bound: Bound) -> bool:
    """ "Two cracks, twenty and fourteen", "fifteen, might be sixteen": not its width."""
    before = next((i for i in reversed(number.said) if i.end <= number.item.start), None)
    guessed = before is not None and before.slot == "hedge"
    return guessed or float(bound.slots.get("count", 1)) > 1


def _put_range(bound: Bound, slot: str, low: float, high: float) -> None:
    bound.ranges[slot] = low, high
    if slot == "thickness_mm":  # what may be left of the metal is the least of it
        bound.slots[slot] = low


def _scaled(measure: Measure, value: float, slot: str, unit_mm: float) -> float:
    """The number in the slot's own unit."""
    if slot in ("count", "ordinal"):
        return round(value)
    bare = measure.quantity == "number"
    if unit_mm < 1 and value < 1:  # ".090, should be a hundred and twenty thou": inches
        unit_mm *= 1000
    scale = unit_mm if bare and SLOTS[slot].kind == "length" else 1.0
    return round(value * scale, 4)
