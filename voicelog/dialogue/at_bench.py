"""Entries put right at the bench, by somebody who reads and listens instead of talking.

The rules are those of spoken corrections: a probe gone through makes rust a hole, a clear place keeps
no measures, one of two mountings needs its side.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from voicelog.dialogue.amendments import corrected, late
from voicelog.dialogue.entries import NO_PLACE
from voicelog.dialogue.place import checked_side
from voicelog.dialogue.scene import only_place, without_place
from voicelog.domain.entry import Amend, Change, Entry, Kind, Replace, amended
from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import (
    CONDITIONS,
    MEASURE_SLOTS,
    METHODS,
    PLACE_SLOTS,
    PROBES,
    ROTS_TO_HOLE,
    SLOTS,
    VEHICLE_SLOTS,
    Slots,
    plausible,
)
from voicelog.domain.slot_title import slot_title
from voicelog.domain.zone import Layout, ZoneMap
from voicelog.errors import UsageFault
from voicelog.tongue import worded

CORRECTION = "correction"
"""Why an entry was amended: somebody put it right."""

_PLACED = (Kind.FINDING, Kind.CLEAR, Kind.NOT_SEEN, Kind.PHOTO)
_OF_METAL = frozenset(SLOTS) - frozenset(VEHICLE_SLOTS)
_KEPT = {
    Kind.FINDING: _OF_METAL,
    Kind.CLEAR: _OF_METAL - {"condition"},
    Kind.NOT_SEEN: frozenset(PLACE_SLOTS),
    Kind.PHOTO: frozenset(PLACE_SLOTS),
    Kind.REMARK: frozenset((*PLACE_SLOTS, *VEHICLE_SLOTS)),
}
"""What an entry of the kind can have."""
_BOTH_SIDES = ({"left", "right"}, {"left", "both"}, {"right", "both"})


def put_right(
    entry: Entry,
    slots: Slots,
    zone_map: ZoneMap,
    *,
    drop: Collection[str] = (),
    kind: Kind | None = None,
    reason: str | None = None,
) -> Entry:
    """The entry with slots said anew, and whatever follows from them.

    Args:
        entry: as it stands.
        slots: those that are known better now.
        zone_map: the places of the vehicle.
        drop: slots that are not known after all.
        kind: what it is instead, if that changes; a condition makes it a finding by itself.
        reason: why the place could not be looked at.

    Raises:
        UsageFault: a slot cannot hold its value, or the entry would lack what its kind needs.
    """
    _refuse_unknown(slots, zone_map.zones)
    after = _said_anew(entry, slots, clear=kind is Kind.CLEAR)
    after = _without(after, drop)
    after = _of_kind(after, kind or _kind_meant(entry, after))
    if after.slots.get("zone") != entry.slots.get("zone"):
        after = _moved(after, slots, zone_map)
    if reason is not None:
        after = replace(after, reason=reason)
    _refuse_lacking(entry, after)
    return checked_side(after, zone_map)


def with_late(entry: Entry, late_said: Slots) -> Entry:
    """The entry, its sentence read anew, with what was said of it afterwards.

    As under the vehicle: the worse probe and the stronger method stay; a measure that the sentence
    gives now is the one that was meant.
    """
    told = {
        name: value
        for name, value in late_said.items()
        if name in ("probe", "method") or (name in MEASURE_SLOTS and name not in entry.slots)
    }
    graded = entry.kind in (Kind.FINDING, Kind.CLEAR)
    return amended(entry, late(entry, told, {})) if told and graded else entry


def merged(entry: Entry, other: Entry) -> Entry:
    """Two entries of one place as one: the first one's words hold, the other adds what it lacks.

    The worse probe and the stronger method stay, whichever entry had them; left and right are both.

    Raises:
        UsageFault: they lie in different places, or are of kinds that do not go together.
    """
    _refuse_apart(entry, other)
    slots = {**other.slots, **entry.slots}
    for name, order in (("probe", PROBES), ("method", METHODS)):
        said = [str(e.slots[name]) for e in (entry, other) if name in e.slots]
        slots |= {name: max(said, key=order.index)} if said else {}
    if {entry.slots.get("side"), other.slots.get("side")} in _BOTH_SIDES:
        slots["side"] = "both"
    if slots.get("probe") == "through" and slots.get("condition") in ROTS_TO_HOLE:
        slots["condition"] = "hole"
    kind = Kind.FINDING if "condition" in slots else entry.kind
    taken = {name: ends for name, ends in other.ranges.items() if name not in entry.slots}
    return replace(
        entry,
        slots=slots,
        kind=kind,
        absent=() if kind is Kind.FINDING else entry.absent,
        text="; ".join(dict.fromkeys(text for text in (entry.text, other.text) if text)),
        doubts=tuple(dict.fromkeys((*entry.doubts, *other.doubts))),
        questions=tuple(q for q in entry.questions if q.slot not in slots),
        ranges={**taken, **entry.ranges},
    )


def confirmed(entry: Entry) -> Entry:
    """The entry as it stands, in doubt no longer.

    Raises:
        UsageFault: something asked about it has no answer yet.
    """
    asked = [question for question in entry.questions if question.slot not in entry.slots]
    if asked:
        options = ", ".join(asked[0].options)
        raise UsageFault(
            worded(
                "{entry} cannot be confirmed while its {slot} is not known",
                entry=entry.id,
                slot=slot_title(asked[0].slot),
            ),
            worded("Set it to one of: {options}", options=options),
        )
    return replace(entry, doubts=(), questions=(), place_assumed=False)


def change_to(before: Entry, after: Entry) -> Change:
    """What makes one state of an entry the other: slot by slot if that tells all, else as a whole."""
    said = {name: value for name, value in after.slots.items() if before.slots.get(name) != value}
    amend = Amend(
        before.id,
        said,
        CORRECTION,
        drop=tuple(name for name in before.slots if name not in after.slots),
        kind=after.kind if after.kind is not before.kind else None,
        doubts=after.doubts,
        absent=after.absent if after.absent != before.absent else None,
        questions=after.questions,
        ranges={name: ends for name, ends in after.ranges.items() if name in said},
    )
    return amend if amended(before, amend) == after else Replace(after)


def _said_anew(entry: Entry, slots: Slots, *, clear: bool) -> Entry:
    """As a spoken correction would have it, but that each measure is the one that was named."""
    measures = {name: value for name, value in slots.items() if name in MEASURE_SLOTS}
    words = {name: value for name, value in slots.items() if name not in MEASURE_SLOTS}
    statement = Statement(Act.CORRECTION, slots=without_place(words), clear=clear)
    change = corrected(entry, statement, only_place(words))
    after = entry if change is None else amended(entry, change)
    return amended(after, Amend(entry.id, measures, CORRECTION, doubts=_still_doubted(after)))


def _still_doubted(entry: Entry) -> tuple[str, ...]:
    """What was looked into is in doubt no longer, unless something asked has no answer yet."""
    asked = any(question.slot not in entry.slots for question in entry.questions)
    return entry.doubts if asked else ()


def _without(entry: Entry, drop: Collection[str]) -> Entry:
    """The entry without these slots, and without their ranges."""
    return replace(
        entry,
        slots={name: value for name, value in entry.slots.items() if name not in drop},
        ranges={name: ends for name, ends in entry.ranges.items() if name not in drop},
    )


def _kind_meant(before: Entry, after: Entry) -> Kind:
    """A condition that had no place becomes a finding once it has one."""
    completed = before.unplaced and "zone" in after.slots and "condition" in after.slots
    return Kind.FINDING if completed else after.kind


def _of_kind(entry: Entry, kind: Kind) -> Entry:
    """The entry as one of the kind, without what such an entry cannot have."""
    room = _KEPT[kind]
    kept = _without(entry, entry.slots.keys() - room)
    if kind is Kind.FINDING:
        known = {"certainty": "stated", **kept.slots}
        doubts = tuple(doubt for doubt in entry.doubts if doubt != NO_PLACE)
        return replace(kept, kind=kind, slots=known, doubts=doubts, unplaced=False, absent=())
    asked = tuple(question for question in entry.questions if question.slot in room)
    unplaced = entry.unplaced and kind is entry.kind
    return replace(kept, kind=kind, questions=asked, unplaced=unplaced)


def _moved(entry: Entry, said: Slots, zone_map: ZoneMap) -> Entry:
    """In a new zone the old number means nothing, nor the side where it has no left and right."""
    zone = str(entry.slots.get("zone", ""))
    paired = zone not in zone_map or zone_map[zone].layout is Layout.PAIR
    stale = ("ordinal",) if paired else ("ordinal", "side")
    return _without(entry, [name for name in stale if name not in said])


def _refuse_lacking(before: Entry, after: Entry) -> None:
    if after.kind is Kind.FINDING and "condition" not in after.slots:
        raise UsageFault(
            worded("{entry} would be a finding without a condition", entry=after.id),
            worded("Name the condition, make it clear, or withdraw it"),
        )
    asked = any(question.slot == "zone" for question in after.questions)
    lost = "zone" in before.slots or after.kind is not before.kind
    if after.kind in _PLACED and "zone" not in after.slots and not asked and lost:
        raise UsageFault(
            worded("{entry} would lie nowhere", entry=after.id), worded("Name its zone as well")
        )


def _refuse_apart(entry: Entry, other: Entry) -> None:
    if entry.slots.get("zone") != other.slots.get("zone"):
        raise UsageFault(
            worded("{entry} and {other} lie in different places", entry=entry.id, other=other.id),
            worded("Move one of them first"),
        )
    kinds = {entry.kind, other.kind}
    if len(kinds) > 1 and not kinds <= {Kind.FINDING, Kind.CLEAR}:
        raise UsageFault(
            worded(
                "{entry} is {kind}, {other} is {other_kind}",
                entry=entry.id,
                kind=entry.kind,
                other=other.id,
                other_kind=other.kind,
            ),
            worded("Only entries that say something of the same metal can be merged"),
        )


def _refuse_unknown(slots: Slots, zones: Collection[str]) -> None:
    """Refuse what a slot cannot hold; text that people type is checked more kindly before."""
    for name, value in slots.items():
        spec = SLOTS.get(name)
        if spec is None:
            raise UsageFault(
                worded("There is no slot {name}", name=repr(name)),
                worded("Choose one of {slots}", slots=", ".join(SLOTS)),
            )
        closed = {"zone": tuple(zones), "condition": CONDITIONS}.get(name, spec.choices)
        if closed and value not in closed:
            raise UsageFault(
                worded("{value} is no {name}", value=repr(value), name=name),
                worded("Choose one of {values}", values=", ".join(closed)),
            )
        if not plausible(name, value):
            raise UsageFault(
                worded("{name} cannot be {value}", name=name, value=value),
                worded("It lies from {low} to {high}", low=f"{spec.low:g}", high=f"{spec.high:g}"),
            )
