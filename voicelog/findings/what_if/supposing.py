"""Single further things that could still be said of a finding, as the changes they would be.

Every one is something an inspector can go and do, and the change is the one that saying it would make:
the worse of two probes stays, so a better one is supposed only where there is none yet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from voicelog.domain.entry import Amend, Entry
from voicelog.domain.slot import METHODS, PROBES, ROTS_TO_HOLE, Slots, SlotValue
from voicelog.domain.zone import Role, Zone, ZoneMap
from voicelog.findings.facts_of import DEFAULT_LIMITS, known_zone
from voicelog.findings.landmarks import Landmarks, is_approximate
from voicelog.findings.places import title_in_words
from voicelog.findings.what_if.supposed_walls import walls
from voicelog.tongue import to_word, worded

HANDS_OFF = ("fuel-tank",)
"""Zones that nobody should pick or scrape at, beside the fluid lines."""

_NO_METAL = ("leak", "missing-part")
"""Conditions that are no fault of metal, so that no probe tells anything of them."""

_PROBED = {
    "firm": to_word("the probe found firm metal"),
    "soft": to_word("the metal gave way under the probe"),
    "through": to_word("the probe went through"),
}
_OF_PROBE = {"soft": "soft-spot", "through": "hole"}
"""What a bad probe makes of a finding without a condition."""


@dataclass(frozen=True, slots=True)
class Supposed:
    """One thing that could be said.

    Args:
        said: the same as a clause, for example ``the probe went through``.
        change: what it would do to the entry.
        row: those of one row that come to the same are told once, by the first; empty for none.
    """

    said: str
    change: Amend
    row: str = ""


def is_hands_off(zone: Zone | None) -> bool:
    """True at lines and tanks, which are looked at and not picked at."""
    return zone is not None and (zone.role is Role.FLUID_LINE or zone.id in HANDS_OFF)


def probed(entry: Entry, probe: str) -> Amend:
    """The change that a probe makes: one gone through makes rust a hole."""
    condition = entry.slots.get("condition")
    told: dict[str, SlotValue] = {"probe": probe}
    if condition is None and probe in _OF_PROBE:
        told["condition"] = _OF_PROBE[probe]
    elif probe == "through" and condition in ROTS_TO_HOLE:
        told["condition"] = "hole"
    return Amend(entry.id, told, "probe")


class Supposing:
    """What could still be said of findings on one map, under one table's limits.

    Args:
        zone_map: the places.
        limits: the table's numbers.
        landmarks: which spoken names may be critical mountings.
    """

    def __init__(
        self, zone_map: ZoneMap, limits: Mapping[str, float], landmarks: Landmarks
    ) -> None:
        self._zone_map = zone_map
        self._limits = {**DEFAULT_LIMITS, **limits}
        self._landmarks = landmarks

    def all_of(self, entry: Entry) -> Iterator[Supposed]:
        """Everything that could be said, whether it would change anything or not.

        Args:
            entry: the finding as the rules read it.
        """
        zone = known_zone(entry.slots, self._zone_map)
        touchable = not is_hands_off(zone)
        if touchable:
            yield from _probes(entry)
            yield from _scraped(entry)
            yield from _surrounds(entry)
        for wall in walls(entry.slots, zone, self._limits, bare=touchable):
            change = Amend(entry.id, wall.slots, "measure", drop=wall.drop)
            yield Supposed(wall.said, change, wall.row)
        yield from self.distances(entry, zone)
        yield from _said_of_it(entry)
        yield from self._places(entry)

    def distances(self, entry: Entry, zone: Zone | None) -> Iterator[Supposed]:
        """Within the set distance of a mounting, then outside of it; none at a critical mounting.

        Args:
            entry: the finding as the rules read it.
            zone: its place.
        """
        if zone is not None and zone.role is Role.CRITICAL:
            return
        limit = self._limits["mount_distance_mm"]
        landmark = str(entry.slots.get("landmark", "")).lower()
        elsewhere = () if self._landmarks.may_be_critical(landmark) else ("landmark",)
        near: Slots = {"mount_distance_mm": limit}
        yield Supposed(
            worded(
                "it was within {limit} mm of a steering, suspension, brake, belt or hitch mounting",
                limit=f"{limit:g}",
            ),
            Amend(entry.id, near, "measure", drop=elsewhere),
        )
        slack = self._limits["approximate_percent"] / 100 if is_approximate(landmark) else 0.0
        reach = round(limit * (1 + slack), 6)
        far: Slots = {"mount_distance_mm": reach + 1}
        yield Supposed(
            worded(
                "it was more than {reach} mm from every steering, suspension, brake, belt or hitch mounting",
                reach=f"{reach:g}",
            ),
            Amend(entry.id, far, "measure"),
        )

    def _places(self, entry: Entry) -> Iterator[Supposed]:
        """The places that were asked about and not told."""
        if known_zone(entry.slots, self._zone_map) is not None:
            return
        options = [o for q in entry.questions if q.slot == "zone" for o in q.options]
        for option in options:
            if (zone := self._zone_map.zones.get(option)) is not None:
                told = worded("it was at the {place}", place=title_in_words(zone))
                yield Supposed(told, Amend(entry.id, {"zone": option}, "place"), "place")


def _probes(entry: Entry) -> Iterator[Supposed]:
    kept = entry.slots.get("probe")
    if entry.slots.get("condition") in _NO_METAL:
        return
    for probe, said in _PROBED.items():
        if kept not in PROBES or PROBES.index(probe) > PROBES.index(str(kept)):
            yield Supposed(worded(said), probed(entry, probe), "probe")


def _scraped(entry: Entry) -> Iterator[Supposed]:
    if entry.slots.get("method", "seen") in METHODS[: METHODS.index("scraped")]:
        scraped: Slots = {"method": "scraped"}
        yield Supposed(worded("it was scraped open"), Amend(entry.id, scraped, "measure"))


def _surrounds(entry: Entry) -> Iterator[Supposed]:
    """The metal around it, where there is a fault in metal."""
    if entry.slots.get("condition") in _NO_METAL:
        return
    for surround, said in (
        ("none", to_word("no solid metal was left around it")),
        ("firm", to_word("solid metal was found around it")),
    ):
        if entry.slots.get("surround") != surround:
            yield Supposed(worded(said), Amend(entry.id, {"surround": surround}, "measure"))


def _said_of_it(entry: Entry) -> Iterator[Supposed]:
    """A hedge, the inspector's own grade."""
    if entry.slots.get("certainty") == "tentative":
        sure: Slots = {"certainty": "stated"}
        told = worded("it was said without a hedge")
        yield Supposed(told, Amend(entry.id, sure, "correction"))
    if "spoken_grade" in entry.slots:
        yield Supposed(
            worded(
                "the inspector's own grade, {grade}, was taken back",
                grade=entry.slots["spoken_grade"],
            ),
            Amend(entry.id, {}, "correction", drop=("spoken_grade",)),
        )
