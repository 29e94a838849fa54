"""Changes to earlier entries: late probes, measures and corrections."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.domain.entry import Amend, Entry, Kind
from voicelog.domain.reading import Statement
from voicelog.domain.slot import MEASURE_SLOTS, METHODS, PROBES, ROTS_TO_HOLE, SlotValue

BAD_PROBES = ("dents", "moves", "soft", "through")
_INCH_MM = 25.4


def condition_of_probe(probe: SlotValue | None) -> str | None:
    """The condition that a probe alone tells: through is a hole, giving way a soft spot."""
    if probe == "through":
        return "hole"
    return "soft-spot" if probe in BAD_PROBES else None


def late(entry: Entry, said: Mapping[str, SlotValue]) -> Amend:
    """A measure, probe, method or grade said after its finding.

    The worse of two probes and the stronger of two methods stay. A probe that went through makes
    the condition a hole, a bad one makes a clear entry a finding.
    """
    set_slots = dict(said)
    for name, order in (("probe", PROBES), ("method", METHODS)):
        kept = entry.slots.get(name)
        if name in set_slots and kept is not None:
            set_slots[name] = max(str(kept), str(set_slots[name]), key=order.index)
    if set_slots.get("probe") == "through" and entry.slots.get("condition") in ROTS_TO_HOLE:
        set_slots["condition"] = "hole"
    kind = None
    told = condition_of_probe(set_slots.get("probe"))
    if entry.kind is Kind.CLEAR and told is not None:
        kind, set_slots["condition"] = Kind.FINDING, told
    if "condition" in set_slots:
        set_slots["certainty"] = "stated"
    return Amend(entry.id, set_slots, why="probe" if "probe" in said else "measure", kind=kind)


def corrected(entry: Entry, statement: Statement, place: Mapping[str, SlotValue]) -> Amend | None:
    """The entry as it should have been, or None when the correction says nothing to change."""
    set_slots: dict[str, SlotValue] = {**_own(statement), **place}
    if statement.bare_number is not None and not any(n in set_slots for n in MEASURE_SLOTS):
        set_slots.update(_renumbered(entry, statement))
    drop: tuple[str, ...] = ()
    kind: Kind | None = None
    if statement.clear and "condition" not in set_slots:
        kind = Kind.CLEAR
        drop = ("condition", "certainty", "spoken_grade", *MEASURE_SLOTS)
    elif "condition" in set_slots:
        kind = Kind.FINDING
        drop = _stale(entry, set_slots)
    if not set_slots and kind is None:
        return None
    return Amend(
        entry.id, set_slots, why="correction", drop=drop, kind=kind, doubts=statement.doubts,
        absent=() if kind is Kind.FINDING else None,
    )  # fmt: skip


def _own(statement: Statement) -> dict[str, SlotValue]:
    own = dict(statement.slots)
    if statement.bare_number is not None and statement.bare_unit_mm is None:
        own.pop("size_mm", None)
    return own


def _stale(entry: Entry, set_slots: Mapping[str, SlotValue]) -> tuple[str, ...]:
    """A probe that went through cannot stay with a condition that is no hole."""
    through = entry.slots.get("probe") == "through" and "probe" not in set_slots
    return ("probe",) if through and set_slots["condition"] != "hole" else ()


def _renumbered(entry: Entry, statement: Statement) -> dict[str, SlotValue]:
    """A bare number takes the slot, and failing a unit of its own the unit, of what it corrects."""
    measured = [name for name in entry.slots if name in MEASURE_SLOTS]
    number = float(statement.bare_number or 0.0)
    if not measured:
        return {"size_mm": number * (statement.bare_unit_mm or 1.0)}
    slot = measured[-1]
    if slot == "count":
        return {slot: round(number)}
    if slot.endswith("_percent"):
        return {slot: number}
    unit_mm = statement.bare_unit_mm or _unit_of(float(entry.slots[slot]))
    return {slot: round(number * unit_mm, 4)}


def _unit_of(value_mm: float) -> float:
    """The unit a length was probably said in: whole inches stay inches."""
    inches = value_mm / _INCH_MM
    return _INCH_MM if abs(inches - round(inches)) < 1e-6 else 1.0
