"""What the severity rules look at in an entry, worked out from its slots, its words and the map."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from voicelog.domain.entry import Entry
from voicelog.domain.rating import wall_loss_percent
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Role, Zone, ZoneMap
from voicelog.findings.landmarks import Landmarks, is_approximate

FAILED = ("moves", "soft", "through")
"""Probe results of metal that gave way: it was reached, and it was bad."""

DEFAULT_LIMITS: Mapping[str, float] = {
    "mount_distance_mm": 300.0,
    "approximate_percent": 10.0,
    "wall_loss_percent": 25.0,
    "gauge_uncertainty_mm": 0.1,
    "major_places": 4.0,
    "tier_places_percent": 50.0,
}
"""Limits this package reads itself, for a table that does not give them. 300 mm is the prescribed
area of the UK MOT inspection manual, Appendix A; the rest is explained in ``rules/frame.toml``."""


class Facts(NamedTuple):
    """An entry as the rules see it at one place; None where nothing is known.

    A tuple, because a finding without a place is graded at every place it may be, and copies of
    a tuple with one value changed cost a third of a dataclass's.

    Args:
        zone: the place; empty when it is known only by its role.
        role: what the metal there is for.
        words: the entry's own words, in lower case; empty once its condition was corrected.
        near_mount: at a critical mounting, or within the limit of one.
        distance_known: a distance was said.
        loss_percent: wall loss; negative when the reading lies over nominal.
        main_member: at a station of the members that carry the whole vehicle.
        cabin: at a place that closes the cabin.
    """

    zone: str
    role: Role
    condition: str | None
    probe: str | None
    layer: str | None
    part: str | None
    surround: str | None
    side: str | None
    method: str | None
    certainty: str
    landmark: str
    words: str
    near_mount: bool
    distance_known: bool
    loss_percent: float | None
    size_mm: float | None
    main_member: bool
    cabin: bool


class FactFinder:
    """Works out the facts of entries on one map, under one table's limits.

    Args:
        zone_map: the places.
        limits: the table's numbers; missing ones are those of :data:`DEFAULT_LIMITS`.
    """

    def __init__(self, zone_map: ZoneMap, limits: Mapping[str, float]) -> None:
        self._zone_map = zone_map
        self._limits = {**DEFAULT_LIMITS, **limits}
        self.landmarks = Landmarks(zone_map)
        self._load_path = tuple(z for z in zone_map.zones.values() if z.role is Role.LOAD_PATH)

    def places(self, entry: Entry) -> tuple[Zone | None, ...]:
        """Every zone the entry may be about, so that the worst of them can count.

        Its own zone if the map has it; else the options of the question about it; else any part of
        the load path (None alone on a map that has none), so that a finding without a place is
        never graded softer than one on the frame itself.
        """
        if (zone := known_zone(entry.slots, self._zone_map)) is not None:
            return (zone,)
        options = [o for q in entry.questions if q.slot == "zone" for o in q.options]
        asked = tuple(self._zone_map[option] for option in options if option in self._zone_map)
        if asked and len(asked) == len(options):
            return asked
        return (*asked, *self._load_path) or (None,)

    def facts(self, entry: Entry, words: str) -> tuple[Facts, ...]:
        """The facts of an entry, one for every zone it may be about.

        Args:
            entry: as it stands.
            words: what it was read from; empty when its words no longer describe it.
        """
        first, *others = self.places(entry)
        facts = self._at(entry.slots, first, words.lower())
        return (facts, *(self._moved(facts, entry.slots, zone) for zone in others))

    def _at(self, slots: Slots, zone: Zone | None, words: str) -> Facts:
        said = {name: value for name, value in slots.items() if isinstance(value, str)}.get
        return Facts(
            zone=zone.id if zone else "",
            role=zone.role if zone else Role.LOAD_PATH,
            condition=said("condition"),
            probe=said("probe"),
            layer=said("layer"),
            part=said("part"),
            surround=said("surround"),
            side=said("side"),
            method=said("method"),
            certainty=said("certainty") or "stated",
            landmark=said("landmark", "").lower(),
            words=words,
            near_mount=self._is_near(slots, zone),
            distance_known=number(slots, "mount_distance_mm") is not None,
            loss_percent=wall_loss(slots, zone),
            size_mm=number(slots, "size_mm"),
            main_member=zone is not None and zone.main,
            cabin=zone is not None and zone.cabin,
        )

    def _moved(self, facts: Facts, slots: Slots, zone: Zone | None) -> Facts:
        """The same facts at another zone the entry may be about."""
        return facts._replace(
            zone=zone.id if zone else "",
            role=zone.role if zone else Role.LOAD_PATH,
            near_mount=self._is_near(slots, zone),
            loss_percent=wall_loss(slots, zone),
            main_member=zone is not None and zone.main,
            cabin=zone is not None and zone.cabin,
        )

    def _is_near(self, slots: Slots, zone: Zone | None) -> bool:
        """True at a critical mounting, or within the set distance of one; at it is within."""
        if zone is not None and zone.role is Role.CRITICAL:
            return True
        distance = number(slots, "mount_distance_mm")
        if distance is None:
            return False
        landmark = (_word(slots, "landmark") or "").lower()
        return distance <= self._reach(landmark) and self.landmarks.may_be_critical(landmark)

    def _reach(self, landmark: str) -> float:
        """The distance in mm up to which metal counts as near a mounting."""
        slack = self._limits["approximate_percent"] / 100 if is_approximate(landmark) else 0.0
        return round(self._limits["mount_distance_mm"] * (1 + slack), 6)


def wall_loss(slots: Slots, zone: Zone | None) -> float | None:
    """Wall loss in percent of nominal; negative when the reading is over nominal, never clipped.

    A measured and a nominal thickness that were said count before a loss that was said, for the
    loss may stem from a reading corrected since. Against the map's nominal, the worse counts.
    """
    said, measured = number(slots, "loss_percent"), number(slots, "thickness_mm")
    spoken = lost_percent(measured, number(slots, "nominal_mm"))
    if spoken is not None:
        return spoken
    by_map = lost_percent(measured, zone.nominal_mm if zone else None)
    return max((loss for loss in (said, by_map) if loss is not None), default=None)


def lost_percent(measured_mm: float | None, nominal_mm: float | None) -> float | None:
    """The loss where both are known; rounded, so that 15 % of 3 mm is not a hair under 15."""
    if measured_mm is None or nominal_mm is None or nominal_mm <= 0 or measured_mm < 0:
        return None
    return round(wall_loss_percent(nominal_mm, measured_mm), 6)


def known_zone(slots: Slots, zone_map: ZoneMap) -> Zone | None:
    """The zone the slots name, if the map has it."""
    return zone_map.zones.get(str(slots.get("zone", "")))


def is_rot(slots: Slots, zone: Zone | None, limits: Mapping[str, float]) -> bool:
    """True when metal is gone or gives way: hole, soft spot, failed probe, wall too thin."""
    if slots.get("condition") in ("hole", "soft-spot") or slots.get("probe") in FAILED:
        return True
    loss = wall_loss(slots, zone)
    return loss is not None and loss >= {**DEFAULT_LIMITS, **limits}["wall_loss_percent"]


def number(slots: Slots, name: str) -> float | None:
    """A slot's number; None where it is not known or not a finite number."""
    value = slots.get(name)
    if value is None or isinstance(value, bool) or not isinstance(value, int | float):
        return None  # most slots are not there, and no finding is asked for fewer than nine
    return float(value) if math.isfinite(value) else None


def _word(slots: Slots, name: str) -> str | None:
    value = slots.get(name)
    return value if isinstance(value, str) else None
