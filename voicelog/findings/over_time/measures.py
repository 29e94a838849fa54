"""What became larger or smaller between two findings that are the same, beyond measuring it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from voicelog.domain.entry import Entry
from voicelog.domain.told_length import told_number
from voicelog.findings.facts_of import number
from voicelog.tongue import to_word, worded


@dataclass(frozen=True, slots=True)
class Measure:
    """A number that can grow.

    Args:
        slot: where it stands.
        told: that it changed, in words.
        slack: so much is no change, in the slot's unit.
        share: nor is this share of the larger of the two, as a fraction.
    """

    slot: str
    told: str
    slack: float
    share: float


MEASURES = (
    Measure("size_mm", to_word("size from {before} to {after} mm"), 2.0, 0.1),
    Measure("width_mm", to_word("width from {before} to {after} mm"), 2.0, 0.1),
    Measure("depth_mm", to_word("depth from {before} to {after} mm"), 0.5, 0.1),
    Measure("area_percent", to_word("area from {before} to {after} %"), 5.0, 0.0),
    Measure("count", to_word("number from {before} to {after}"), 0.0, 0.1),
    Measure("loss_percent", to_word("wall loss from {before} to {after} %"), 5.0, 0.0),
)
"""How far a tape, an eye or a guess may be off; ours. A thickness has the gauge's own uncertainty,
and where both logs have one, it counts in place of a share that was told."""


@dataclass(frozen=True, slots=True)
class Step:
    """A measure that changed; ``grew`` is True where more metal is concerned than then."""

    text: str
    grew: bool


def steps(then: Entry, now: Entry, gauges_mm: float) -> Iterator[Step]:
    """Every measure that both entries have and that changed by more than measuring explains.

    Args:
        then: the older entry.
        now: the newer entry.
        gauges_mm: what both readings of a thickness may be off together, plus or minus.
    """
    reading = _thickness(then, now, gauges_mm)
    if reading is not None:
        yield reading
    read_twice = all(number(entry.slots, "thickness_mm") is not None for entry in (then, now))
    for measure in MEASURES:
        if not (read_twice and measure.slot == "loss_percent"):
            yield from _changed(measure, then, now)


def _thickness(then: Entry, now: Entry, gauges_mm: float) -> Step | None:
    a, b = number(then.slots, "thickness_mm"), number(now.slots, "thickness_mm")
    if a is None or b is None or abs(a - b) <= gauges_mm + _HAIR:
        return None
    text = to_word("thickness from {before} to {after} mm")
    before, after = (_told((mm, mm), "thickness_mm") for mm in (a, b))
    return Step(worded(text, before=before, after=after), grew=b < a)


_HAIR = 1e-9
"""3.0 less 2.8 is a hair more than 0.2 to a computer."""


def _changed(measure: Measure, then: Entry, now: Entry) -> Iterator[Step]:
    """A range counts by the end that is nearer to the other number."""
    a, b = _ends(then, measure.slot), _ends(now, measure.slot)
    if a is None or b is None:
        return
    slack = max(measure.slack, measure.share * max(a[1], b[1])) + _HAIR
    if b[0] > a[1] + slack or a[0] > b[1] + slack:
        text = worded(measure.told, before=_told(a, measure.slot), after=_told(b, measure.slot))
        yield Step(text, grew=b[0] > a[1])


def _ends(entry: Entry, slot: str) -> tuple[float, float] | None:
    value = number(entry.slots, slot)
    if value is None:
        return None
    low, high = entry.ranges.get(slot, (value, value))
    return min(low, high), max(low, high)


def _told(ends: tuple[float, float], slot: str) -> str:
    low, high = (told_number(end, slot) for end in ends)
    return f"{low:g}" if low == high else f"{low:g}-{high:g}"
