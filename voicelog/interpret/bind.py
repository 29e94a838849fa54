"""Numbers to slots: which measure is a size, a depth, a thickness, a distance?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from voicelog.domain.reading import Speech
from voicelog.domain.slot import SLOTS, SlotValue, plausible
from voicelog.interpret.cover import Item
from voicelog.interpret.measures import Measure

_COUNTABLE = ("hole", "crack", "soft-spot", "old-repair", "missing-part", "leak", "worn-hole",
              "seized-fixing", "wasted-fixing", "blocked-drain", "blistering", "pitting")  # fmt: skip
_QUIET = ("filler", "unknown", "hedge", "contrast")


@dataclass(slots=True)
class Bound:
    """What the numbers of a draft say.

    Args:
        slots: slot name to value, lengths in mm.
        bare: a number that nothing explains.
        bare_unit_mm: mm in the unit said with it, None if none was said.
        approximate: slots whose number was only about right.
        ranges: slots said as a range, with both ends in the slot's unit.
        distances: relation items whose measure is the distance to a landmark.
    """

    slots: dict[str, SlotValue] = field(default_factory=dict)
    bare: float | None = None
    bare_unit_mm: float | None = None
    approximate: set[str] = field(default_factory=set)
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
    kept = {id(number) for number in numbers}
    flow = [item for item in items if item.slot not in _QUIET or id(item) in kept]
    measures = [i for i, item in enumerate(flow) if item.measure is not None and id(item) in kept]
    unit = _shared_unit(flow, measures, speech)
    told = [i for i in measures if _label(flow, i, _measure_of(flow[i]), bound)]
    for index in sorted(measures, key=lambda i: i not in told):
        _settle(items, flow, index, condition, unit, bound)
    if "width_mm" in bound.slots and "size_mm" not in bound.slots:
        bound.slots["size_mm"] = bound.slots.pop("width_mm")  # "a hole an inch wide"
    return bound


def _settle(
    items: Sequence[Item],
    flow: Sequence[Item],
    index: int,
    condition: str | None,
    unit_mm: float,
    bound: Bound,
) -> None:
    """One measure: labelled ones come first, so that the rest know what is still open."""
    measure = _measure_of(flow[index])
    slot = _slot(items, flow, index, measure, condition, bound)
    if slot == "distance":
        bound.distances[_next_relation(flow, index)] = measure
    elif slot == "count" and measure.value == 1:
        return  # "one bolt missing": a single one is what is meant anyhow
    elif slot == "" and (flow[index].text == "one" or _counts_else(items, flow[index])):
        return  # "the last one", "in two places": no size
    elif slot == "":
        _keep_bare(bound, measure, condition, unit_mm)
    else:
        _put(bound, slot, measure, unit_mm)


def _keep_bare(bound: Bound, measure: Measure, condition: str | None, unit_mm: float) -> None:
    bound.bare, bound.bare_unit_mm = float(measure.number), measure.unit_mm
    if measure.low is not None:
        in_unit = measure.low / (measure.unit_mm or 1.0)
        bound.ranges["bare_number"] = round(in_unit, 4), float(measure.number)
    if measure.unit_mm is not None or condition is not None or measure.by is not None:
        _put(bound, "size_mm", measure, unit_mm)


def _measure_of(item: Item) -> Measure:
    if item.measure is None:
        raise ValueError(f"{item.text!r} is no measure")
    return item.measure


def _shared_unit(flow: Sequence[Item], measures: Sequence[int], speech: Speech) -> float:
    """The unit for bare numbers: the first said with a length that is no distance."""
    units = [
        m.unit_mm
        for i in measures
        if (m := flow[i].measure)
        and m.unit_mm
        and m.quantity == "length"
        and not any(item.slot == "relation" for item in flow[i + 1 : i + 2])
    ]
    return units[0] if units else speech.unit_mm


def _put(bound: Bound, slot: str, measure: Measure, unit_mm: float) -> None:
    if slot in bound.slots and slot == "size_mm":
        first, second = float(bound.slots[slot]), _value(measure, slot, unit_mm)
        bound.slots["size_mm"], bound.slots["width_mm"] = max(first, second), min(first, second)
        return
    bound.slots[slot] = _value(measure, slot, unit_mm)
    if measure.low is not None:
        low, high = _scaled(measure, measure.low, slot, unit_mm), float(bound.slots[slot])
        bound.ranges[slot] = low, high
        if slot == "thickness_mm":  # what may be left of the metal is the least of it
            bound.slots[slot] = low
    if measure.by is not None and slot == "size_mm":
        by_mm = measure.by if measure.unit_mm is not None else measure.by * unit_mm
        bound.slots["size_mm"] = max(float(bound.slots[slot]), round(by_mm, 4))
        bound.slots["width_mm"] = min(_value(measure, slot, unit_mm), round(by_mm, 4))
    if measure.approximate:
        bound.approximate.add(slot)


def _value(measure: Measure, slot: str, unit_mm: float) -> float:
    """The number in the slot's own unit."""
    return _scaled(measure, measure.value, slot, unit_mm)


def _scaled(measure: Measure, value: float, slot: str, unit_mm: float) -> float:
    if slot in ("count", "ordinal"):
        return round(value)
    bare = measure.quantity == "number"
    if unit_mm < 1 and value < 1:  # ".090, should be a hundred and twenty thou": inches
        unit_mm *= 1000
    scale = unit_mm if bare and SLOTS[slot].kind == "length" else 1.0
    return round(value * scale, 4)


def _slot(
    items: Sequence[Item],
    flow: Sequence[Item],
    index: int,
    measure: Measure,
    condition: str | None,
    bound: Bound,
) -> str:
    """The slot of one measure: by the label after it, the distance it is, the label before it,
    its unit, then the condition. Empty where nothing tells.
    """
    after, before = _neighbour(flow, index, 1), _neighbour(flow, index, -1)
    if before is not None and before.slot == "ordinal" and not before.stop:
        return "ordinal"
    if _numbers_a_mount(before, after, measure):
        return "ordinal"
    labelled = _label(flow, index, measure, bound)
    if labelled:
        return labelled
    if condition in (None, "thinning") and _was(items, flow, index, bound):
        return "nominal_mm"
    if measure.quantity == "length" and after is not None and after.slot == "relation":
        return "distance"
    if measure.quantity == "number" and _of_several(items, flow[index]) and _whole(measure):
        return "count"
    if measure.quantity in ("percent", "area"):
        return "loss_percent" if _speaks_of_loss(flow) else "area_percent"
    if measure.quantity == "gauge":
        return "nominal_mm"
    if _counts(measure, after):
        return "count"
    new = "nominal_mm" in bound.slots
    if (
        condition in (None, "thinning")
        and "thickness_mm" not in bound.slots
        and (new or (condition is None and _gauged(flow)))
    ):
        return "thickness_mm" if measure.quantity in ("length", "number") else ""
    return _by_condition(condition, measure, bound)


def _numbers_a_mount(before: Item | None, after: Item | None, measure: Measure) -> bool:
    """ "Cab mount two": a small whole number right after a name, before no fault."""
    named = before is not None and before.slot == "zone" and not before.stop
    faulty = after is not None and after.slot in ("condition", "rot", "rust")
    return named and not faulty and _whole(measure) and measure.value <= _MOST_MOUNTS


def _was(items: Sequence[Item], flow: Sequence[Item], index: int, bound: Bound) -> bool:
    """ "Four mil new", "down to ninety thou from a hundred and twenty"."""
    before = flow[index - 1] if index else None
    told_from = before is not None and before.slot == "relation" and before.text == "from"
    return _said_new(items, flow[index]) or (told_from and "thickness_mm" in bound.slots)


def _said_new(items: Sequence[Item], number: Item) -> bool:
    """ "Four mil new": what it was."""
    after = next((item for item in items if item.start >= number.end), None)
    return after is not None and after.text == "new" and not number.stop


_MOST_MOUNTS = SLOTS["ordinal"].high
_COUNTED = ("bolts", "nuts", "clips", "fixings", "studs", "rivets", "screws", "holes", "cracks")


def _counts_else(items: Sequence[Item], number: Item) -> bool:
    """ "Two halves", "half gone": a small bare number before other words counts those."""
    measure = number.measure
    if measure is None or measure.unit_mm is not None or measure.by is not None:
        return False
    if measure.fraction and measure.value < 1:
        return True
    after = next((item for item in items if item.start >= number.end), None)
    return after is not None and not number.stop and after.slot in ("unknown", "filler")


def _of_several(items: Sequence[Item], number: Item) -> bool:
    """ "Two of the bolts", "two bolts": how many, not how large."""
    after = next((item for item in items if item.start >= number.end), None)
    several = after is not None and (after.text == "of" or after.text in _COUNTED)
    return several and not number.stop


def _label(flow: Sequence[Item], index: int, measure: Measure, bound: Bound) -> str:
    """The slot that the words around a number name: those right after it, those before it, then
    those after a stop.
    """
    after, before = _beside(flow, index, 1), _beside(flow, index, -1)
    stopped = bool(flow[index].stop)
    if after is not None and after.slot == "side" and after.text == "left" and not stopped:
        return "thickness_mm"
    for label in (None if stopped else after, before, after):
        if label is None or label.slot not in ("label", "lead"):
            continue
        slot = label.value
        if label is after:
            if label.slot == "lead":
                continue  # it speaks of the number that follows it
            slot = "thickness_mm" if slot == "left" else slot
        elif slot == "left":
            slot = "nominal_mm"
        if _fits(slot, measure) and slot not in bound.slots:
            return slot
    return ""


def _beside(flow: Sequence[Item], index: int, step: int) -> Item | None:
    """The item beside a measure; a label before it that a stop cuts off is none of its own."""
    other = index + step
    if not 0 <= other < len(flow) or (step < 0 and flow[other].stop):
        return None
    return flow[other]


def _gauged(flow: Sequence[Item]) -> bool:
    """What a gauge reads, or what was measured, is the metal."""
    labels = ("label", "lead")
    return any(
        item.value == "gauged" or (item.slot in labels and item.value == "thickness_mm")
        for item in flow
    )


def _fits(slot: str, measure: Measure) -> bool:
    if slot == "count":
        return _whole(measure)
    percent = measure.quantity in ("percent", "area")
    return percent == (SLOTS[slot].kind == "percent")


def _counts(measure: Measure, after: Item | None) -> bool:
    if not _whole(measure):
        return False
    return after is not None and after.slot in ("condition", "rot") and after.value in _COUNTABLE


def _whole(measure: Measure) -> bool:
    whole = measure.number.denominator == 1 and 1 <= measure.value <= 200
    return measure.quantity == "number" and whole and not measure.fraction


_DEEPEST_PIT_MM = 12.0
"""A pit is no deeper than the thickest frame: a longer length is the pitted area's. Common
practice, no source."""


def _by_condition(condition: str | None, measure: Measure, bound: Bound) -> str:
    if condition == "thinning" and measure.quantity in ("length", "number"):
        return "nominal_mm" if "thickness_mm" in bound.slots else "thickness_mm"
    if condition == "pitting" and measure.quantity == "length" and measure.value <= _DEEPEST_PIT_MM:
        return "depth_mm"
    return "size_mm" if measure.quantity == "length" else ""


def _speaks_of_loss(flow: Sequence[Item]) -> bool:
    return any(item.slot == "label" and item.value == "loss_percent" for item in flow) or any(
        item.value == "thinning" for item in flow
    )


def _neighbour(flow: Sequence[Item], index: int, step: int) -> Item | None:
    """The item beside a measure, unless a stop lies between."""
    other = index + step
    if not 0 <= other < len(flow):
        return None
    between = flow[index] if step > 0 else flow[other]
    if between.stop and flow[other].slot != "label":
        return None
    return flow[other]


def _next_relation(flow: Sequence[Item], index: int) -> int:
    return next(item.start for item in flow[index + 1 :] if item.slot == "relation")


def implausible(slots: Mapping[str, SlotValue]) -> tuple[str, ...]:
    """Numbers outside their slot's plausible bounds, as doubts in plain words."""
    return tuple(
        f"{name} {value:g} is out of the ordinary"
        for name, value in slots.items()
        if not isinstance(value, str) and not plausible(name, value)
    )
