"""Corrected numbers: which measure of an entry a number means that nothing labels."""

from __future__ import annotations

from voicelog.domain.entry import Entry
from voicelog.domain.reading import Statement
from voicelog.domain.slot import MEASURE_SLOTS, SLOTS, Ranges, Slots

_INCH_MM = 25.4


def renumbered(entry: Entry, statement: Statement) -> tuple[Slots, Ranges]:
    """What a correction says, its number in the slot that it means, and both ends of its ranges.

    A bare number takes the slot of what it corrects and, failing a unit of its own, the unit too;
    a length without a label takes the slot alone. Of several measures the one that was nearest is
    meant: who corrects "ten by fifteen" to twenty has the fifteen in mind.
    """
    said = dict(statement.slots)
    ranges = {name: ends for name, ends in statement.ranges.items() if name in said}
    if statement.bare_number is not None and statement.bare_unit_mm is None:
        said.pop("size_mm", None)
        ranges.pop("size_mm", None)
        return _with_bare(entry, statement.bare_number, statement, said, ranges)
    if "size_mm" in said and "condition" not in said:
        meant = _nearest(entry, float(said["size_mm"]), of_length=True)
        said = {meant if name == "size_mm" else name: value for name, value in said.items()}
        ranges = {meant if name == "size_mm" else name: ends for name, ends in ranges.items()}
    return said, ranges


def _with_bare(
    entry: Entry, number: float, statement: Statement, said: Slots, ranges: Ranges
) -> tuple[Slots, Ranges]:
    if any(name in said for name in MEASURE_SLOTS):
        return said, ranges
    meant = _nearest(entry, number)
    scale = _unit_of(entry, meant)
    said = {**said, meant: _value(meant, number * scale)}
    ends = statement.ranges.get("bare_number")
    if ends is None:
        return said, ranges
    return said, {**ranges, meant: (_value(meant, ends[0] * scale), _value(meant, ends[1] * scale))}


def _nearest(entry: Entry, number: float, *, of_length: bool = False) -> str:
    """The measure nearest to the number, by ratio; the one said last of equals; else a size.

    Args:
        entry: what is corrected.
        number: in mm with ``of_length``, else in whatever unit each measure was said in.
        of_length: only lengths are meant.
    """
    kinds = (
        ("length",) if of_length else ("length", "percent", "count" if number.is_integer() else "")
    )
    measured = [
        name
        for name in reversed(list(entry.slots))
        if name in MEASURE_SLOTS and SLOTS[name].kind in kinds
    ]

    def distance(name: str) -> float:
        unit = 1.0 if of_length else _unit_of(entry, name)
        return _ratio(float(entry.slots[name]) / unit, number)

    return min(measured, key=distance, default="size_mm")


def _ratio(one: float, other: float) -> float:
    low, high = sorted((abs(one), abs(other)))
    return high / low if low else float("inf")


def _unit_of(entry: Entry, name: str) -> float:
    """The unit a measure was probably said in: whole inches stay inches, all else is mm."""
    value = entry.slots.get(name)
    if value is None or SLOTS[name].kind != "length":
        return 1.0
    inches = float(value) / _INCH_MM
    return _INCH_MM if abs(inches - round(inches)) < 1e-6 else 1.0


def _value(name: str, number: float) -> float:
    return round(number) if name == "count" else round(number, 4)
