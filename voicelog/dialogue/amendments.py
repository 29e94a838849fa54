"""Changes to earlier entries: late probes, measures and corrections."""

from __future__ import annotations

from voicelog.dialogue.renumbering import renumbered
from voicelog.domain.entry import Amend, Entry, Kind
from voicelog.domain.reading import Statement
from voicelog.domain.slot import (
    MEASURE_SLOTS,
    METHODS,
    PROBES,
    ROTS_TO_HOLE,
    Ranges,
    Slots,
    SlotValue,
)

BAD_PROBES = ("dents", "moves", "soft", "through")
_OF_FINDING = ("condition", "certainty", "spoken_grade", "surround", *MEASURE_SLOTS)
"""What a place that turns out clear cannot have."""


def condition_of_probe(probe: SlotValue | None) -> str | None:
    """The condition that a probe alone tells: through is a hole, giving way a soft spot."""
    if probe == "through":
        return "hole"
    return "soft-spot" if probe in BAD_PROBES else None


def late(entry: Entry, said: Slots, ranges: Ranges) -> Amend:
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
    why = "probe" if "probe" in said else "measure"
    return Amend(entry.id, set_slots, why, kind=kind, ranges=ranges)


def corrected(entry: Entry, statement: Statement, place: Slots) -> Amend | None:
    """The entry as it should have been, or None when the correction says nothing to change.

    What was in doubt stays in doubt while one of its questions is open.

    Args:
        entry: as it stands.
        statement: the correction, its place left out.
        place: the slots of the place that change.
    """
    said, ranges = renumbered(entry, statement)
    set_slots: dict[str, SlotValue] = {**said, **place}
    gone_through = set_slots.get("probe") == "through" and "condition" not in set_slots
    if gone_through and entry.slots.get("condition") in ROTS_TO_HOLE:
        set_slots["condition"] = "hole"
    kind = _kind(statement, set_slots)
    if not set_slots and kind is None:
        return None
    if kind is Kind.CLEAR and not _says_how(entry, set_slots):
        set_slots["method"] = "seen"
    still_open = tuple(q for q in entry.questions if q.slot not in set_slots)
    return Amend(
        entry.id,
        set_slots,
        why="correction",
        drop=_stale(entry, set_slots, kind),
        kind=kind,
        doubts=(*(entry.doubts if still_open else ()), *statement.doubts),
        absent=() if kind is Kind.FINDING else None,
        questions=(*still_open, *statement.questions) if statement.questions else None,
        ranges=ranges,
    )


def _kind(statement: Statement, set_slots: Slots) -> Kind | None:
    if "condition" in set_slots:
        return Kind.FINDING
    return Kind.CLEAR if statement.clear else None


def _says_how(entry: Entry, set_slots: Slots) -> bool:
    """A clear place says how it was looked at: by method, or by a probe that did not give way."""
    probe = set_slots.get("probe", entry.slots.get("probe"))
    good = probe is not None and probe not in BAD_PROBES
    return good or "method" in set_slots or "method" in entry.slots


def _stale(entry: Entry, set_slots: Slots, kind: Kind | None) -> tuple[str, ...]:
    """What cannot stay: all of a finding in a clear entry, a probe that contradicts its condition."""
    unsaid = [name for name in entry.slots if name not in set_slots]
    probe = entry.slots.get("probe")
    if kind is Kind.CLEAR:
        return tuple(
            n for n in unsaid if n in _OF_FINDING or (n == "probe" and probe in BAD_PROBES)
        )
    through = kind is Kind.FINDING and probe == "through" and set_slots["condition"] != "hole"
    return ("probe",) if through and "probe" in unsaid else ()
