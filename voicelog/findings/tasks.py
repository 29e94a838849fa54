"""Findings that need repair, and what some of them come to together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.domain.zone import Role, Zone, ZoneMap
from voicelog.findings.facts_of import is_rot, known_zone
from voicelog.findings.grading import worst_said
from voicelog.findings.places import fault_in_words, place_in_words, title_in_words
from voicelog.tongue import joined, to_word, worded

STRUCTURE = (Role.LOAD_PATH, Role.CRITICAL, Role.SUPPORT, Role.CRUSH)
"""Roles whose metal holds the vehicle together."""

_BOTH_SIDES = to_word("rotten on both sides")
_NO_METAL = to_word("no solid metal left")


@dataclass(frozen=True, slots=True)
class Task:
    """A live finding that needs repair.

    Args:
        finding: as it stands.
        zone: its place; None where nobody knows it.
        rot: metal is gone or gives way.
    """

    finding: Finding
    zone: Zone | None
    rot: bool

    @property
    def sides(self) -> frozenset[str]:
        """The sides it lies on; both count as left and right; empty where none was said."""
        side = self.finding.entry.slots.get("side")
        return frozenset(("left", "right")) if side == "both" else frozenset((str(side or ""),))

    @property
    def structural(self) -> bool:
        """True in structure, and where nobody knows the place."""
        return self.zone is None or self.zone.role in STRUCTURE

    @property
    def main(self) -> bool:
        """True on a main member: a patch cannot make up for one that has lost its shape, or for rot
        on both sides of one of its stations.
        """
        return self.zone is not None and self.zone.main

    @property
    def routine(self) -> bool:
        """True for what is replaced as a matter of routine."""
        return self.zone is not None and self.zone.routine

    @property
    def bent(self) -> bool:
        """True when it is out of shape, so far that it is unsafe."""
        bent = self.finding.entry.slots.get("condition") == "deformation"
        return bent and worst_said(self.finding) is Grade.UNSAFE

    @property
    def no_metal_left(self) -> bool:
        """True when the inspector said that no solid metal is left around it."""
        return self.finding.entry.slots.get("surround") == "none"


def tasks_of(
    live: Iterable[Finding], zone_map: ZoneMap, limits: Mapping[str, float]
) -> Iterator[Task]:
    """The findings that need repair, and whether they are rot.

    Args:
        live: the entries that hold.
        zone_map: the places.
        limits: the severity table's numbers.
    """
    for finding in live:
        grade, slots = worst_said(finding), finding.entry.slots
        if grade is not None and grade.rank >= Grade.REPAIR.rank:
            zone = known_zone(slots, zone_map)
            yield Task(finding, zone, is_rot(slots, zone, limits))


@dataclass(frozen=True, slots=True)
class Lost:
    """What a main member has lost that no patch gives back.

    Args:
        tasks: the findings that say so, of one station.
        how: in English, marked for the catalogue; empty where the fault itself says it.
    """

    tasks: tuple[Task, ...]
    how: str = ""

    @property
    def ids(self) -> tuple[str, ...]:
        """The entries it rests on, each once."""
        return tuple(dict.fromkeys(task.finding.entry.id for task in self.tasks))

    @property
    def together(self) -> bool:
        """True where each finding alone could be repaired."""
        return self.how == _BOTH_SIDES

    def told(self, zone_map: ZoneMap) -> str:
        """The place, what is the matter and the entries, for example ``left mid rail, hole (e2.1)``."""
        entry, zone = self.tasks[0].finding.entry, self.tasks[0].zone
        if self.together and zone is not None:
            told = title_in_words(zone)
        else:
            told = joined(", ", (place_in_words(entry.slots, zone_map), fault_in_words(entry)))
        parts = (told, worded(self.how)) if self.how else (told,)
        return joined("", (joined(", ", parts), f" ({', '.join(self.ids)})"))


def lost_in(tasks: Sequence[Task]) -> Iterator[Lost]:
    """What is beyond a repair: bent members, those without solid metal, stations rotten on both sides.

    Args:
        tasks: the findings that need repair.
    """
    main = [task for task in tasks if task.main]
    yield from (Lost((task,)) for task in main if task.bent)
    yield from (Lost((task,), _NO_METAL) for task in main if task.no_metal_left)
    yield from _both_rails(main)


def _both_rails(main: Iterable[Task]) -> Iterator[Lost]:
    """Every station of the main members that is rotten on both sides, with all that says so."""
    rotten: dict[str, list[Task]] = {}
    for task in main:
        if task.rot and task.zone is not None:
            rotten.setdefault(task.zone.id, []).append(task)
    for there in rotten.values():
        if {"left", "right"} <= frozenset().union(*(task.sides for task in there)):
            yield Lost(tuple(there), _BOTH_SIDES)
