"""The current place, and what a statement makes of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from voicelog.domain.entry import Entry, Kind, Question
from voicelog.domain.reading import Statement
from voicelog.domain.slot import PLACE_SLOTS, Slots, SlotValue
from voicelog.domain.zone import Layout, Rails, ZoneMap

NO_SIDE = "which side was meant is not known"
OPPOSITE = {"left": "right", "right": "left"}


@dataclass(frozen=True, slots=True)
class Place:
    """Where the inspector is.

    Args:
        slots: zone, side, face and the like, as far as known.
        said_at_s: when the zone was last said, in seconds of the inspection.
        assumed: the zone was carried over for longer than places last.
        doubts: what is unclear about it.
        questions: what should be asked about it.
    """

    slots: Slots = field(default_factory=dict)
    said_at_s: float = 0.0
    assumed: bool = False
    doubts: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()

    @property
    def zone(self) -> str | None:
        """The zone, when one is known."""
        zone = self.slots.get("zone")
        return str(zone) if zone is not None else None


def moved(place: Place, statement: Statement, at_s: float, carry_s: float) -> Place:
    """The place after a statement: a new zone clears side and face, a new side clears the face.

    A family ("the rail") is settled by the carried zone where that is one of its members; a
    landmark is the place only where nothing else is known.
    """
    said = {name: value for name, value in statement.slots.items() if name in PLACE_SLOTS}
    if place.zone is not None and place.zone in family_of(statement):
        said["zone"] = place.zone
        statement = settled(statement)
    asked = bool(family_of(statement))
    if "zone" not in said and not asked and place.zone is None and statement.near:
        said["zone"] = statement.near
    if statement.other_side and str(place.slots.get("side")) in OPPOSITE:
        said["side"] = OPPOSITE[str(place.slots["side"])]
    slots = _carried(place, said, cleared=asked)
    fresh = "zone" in said
    return Place(
        slots={**slots, **said},
        said_at_s=at_s if fresh else place.said_at_s,
        assumed=not fresh and place.zone is not None and at_s - place.said_at_s > carry_s,
        doubts=statement.doubts,
        questions=statement.questions,
    )


def family_of(statement: Statement) -> tuple[str, ...]:
    """The zones that a shared name ("the rail") leaves open; none where the zone is known."""
    return next((q.options for q in statement.questions if q.slot == "zone"), ())


def settled(statement: Statement) -> Statement:
    """The statement once it is known which member of a family was meant."""
    return replace(
        statement,
        questions=tuple(q for q in statement.questions if q.slot != "zone"),
        doubts=tuple(d for d in statement.doubts if not d.startswith("which ")),
    )


def _carried(place: Place, said: Slots, *, cleared: bool) -> dict[str, SlotValue]:
    if cleared or said.get("zone", place.zone) != place.zone:
        return {}
    kept = {name: value for name, value in place.slots.items() if name in ("zone", "side", "face")}
    if said.get("side", kept.get("side")) != kept.get("side"):
        kept.pop("face", None)
    if "ordinal" in place.slots and "zone" not in said:
        kept["ordinal"] = place.slots["ordinal"]
    return kept


def checked_face(place: Place, zone_map: ZoneMap, rails: Rails) -> Place:
    """ "Inside" where the zone hides no cavity is doubtful: an inboard face clears no cavity."""
    zone = place.zone
    if place.slots.get("face") != "interior" or zone is None or zone not in zone_map:
        return place
    if zone_map[zone].may_hide_cavity(rails):
        return place
    return replace(
        place,
        doubts=(*place.doubts, "inside of a part that hides no cavity"),
        questions=(*place.questions, Question("face", ("interior", "inboard"))),
    )


def checked_side(entry: Entry, zone_map: ZoneMap) -> Entry:
    """One of two mountings without a word on which: doubtful, and asked."""
    zone = str(entry.slots.get("zone", ""))
    paired = zone in zone_map and zone_map[zone].layout is Layout.PAIR
    asked = any(question.slot == "side" for question in entry.questions)
    if entry.kind is Kind.REMARK or not paired or asked or "side" in entry.slots:
        return entry
    return replace(
        entry,
        doubts=(*entry.doubts, NO_SIDE),
        questions=(*entry.questions, Question("side", ("left", "right"))),
    )


def same_spot(slots: Slots, place: Slots) -> bool:
    """True when an entry lies at the place: same zone, same side and number where both name one."""
    if slots.get("zone") != place.get("zone"):
        return False
    pairs = ((slots.get(name), place.get(name)) for name in ("side", "ordinal"))
    return all(None in pair or pair[0] == pair[1] for pair in pairs)
