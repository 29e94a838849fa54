"""How much work it is: from nothing to a replacement frame or a structural specialist."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.domain.zone import Role, Zone, ZoneMap
from voicelog.findings.facts_of import DEFAULT_LIMITS, is_rot, known_zone
from voicelog.findings.grading import worst_said
from voicelog.findings.places import fault_in_words, place_in_words, title_in_words

Work = Literal["none", "surface", "local", "major", "replacement-or-specialist"]

NONE: Work = "none"
SURFACE: Work = "surface"
LOCAL: Work = "local"
MAJOR: Work = "major"
BEYOND: Work = "replacement-or-specialist"

STRUCTURE = (Role.LOAD_PATH, Role.CRITICAL, Role.SUPPORT, Role.CRUSH)
"""Roles whose metal holds the vehicle together."""

_BOTH_SIDES = "rotten on both sides"


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


def work(
    live: Iterable[Finding], tasks: Sequence[Task], zone_map: ZoneMap, limits: Mapping[str, float]
) -> tuple[Work, tuple[str, ...]]:
    """The amount of work and its reasons.

    - ``none``: nothing is worse than cosmetic; ``surface``: nothing is worse than treat;
    - ``replacement-or-specialist``: a main member is out of shape and unsafe, both sides of one of
      its stations are rotten, or no solid metal is left on one;
    - ``major``: repair is needed in as many structural places as the limit ``major_places`` says,
      or no solid metal is left somewhere else in structure that is not replaced as a routine;
    - ``local``: any other repair.

    Args:
        live: the entries that hold.
        tasks: those of them that need repair.
        zone_map: the places.
        limits: the severity table's numbers.
    """
    lost = tuple(lost_in(tasks))
    reasons = (
        f"Replacement frame or a structural specialist: {loss.told(zone_map)}" for loss in lost
    )
    answer = amount(worst_of(live), tasks, limits)
    return answer, (*reasons, *_advice(tasks, lost, zone_map))


def worst_of(live: Iterable[Finding]) -> Grade:
    """The worst grade of all; cosmetic where there is none."""
    grades = [grade for grade in map(worst_said, live) if grade is not None]
    return Grade.worst(Grade.COSMETIC, *grades)


def amount(worst: Grade, tasks: Sequence[Task], limits: Mapping[str, float]) -> Work:
    """The amount of work alone.

    Args:
        worst: the worst grade of all findings.
        tasks: those that need repair.
        limits: the severity table's numbers.
    """
    if worst.rank < Grade.REPAIR.rank:
        return SURFACE if worst is Grade.TREAT else NONE
    if any(lost_in(tasks)):
        return BEYOND
    return MAJOR if _is_major(tasks, limits) else LOCAL


@dataclass(frozen=True, slots=True)
class Lost:
    """What a main member has lost that no patch gives back.

    Args:
        tasks: the findings that say so, of one station.
        how: in words; empty where the fault itself says it.
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
            told = f"{place_in_words(entry.slots, zone_map)}, {fault_in_words(entry)}"
        return f"{told}{', ' if self.how else ''}{self.how} ({', '.join(self.ids)})"


def lost_in(tasks: Sequence[Task]) -> Iterator[Lost]:
    """What is beyond a repair: bent members, those without solid metal, stations rotten on both sides.

    Args:
        tasks: the findings that need repair.
    """
    main = [task for task in tasks if task.main]
    yield from (Lost((task,)) for task in main if task.bent)
    yield from (Lost((task,), "no solid metal left") for task in main if task.no_metal_left)
    yield from _both_rails(main)


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


def _both_rails(main: Iterable[Task]) -> Iterator[Lost]:
    """Every station of the main members that is rotten on both sides, with all that says so."""
    rotten: dict[str, list[Task]] = {}
    for task in main:
        if task.rot and task.zone is not None:
            rotten.setdefault(task.zone.id, []).append(task)
    for there in rotten.values():
        if {"left", "right"} <= frozenset().union(*(task.sides for task in there)):
            yield Lost(tuple(there), _BOTH_SIDES)


def _is_major(tasks: Iterable[Task], limits: Mapping[str, float]) -> bool:
    structural = [task for task in tasks if task.structural]
    if any(task.no_metal_left and not task.routine for task in structural):
        return True
    places = {
        (task.zone.id if task.zone else "", side) for task in structural for side in task.sides
    }
    return len(places) >= {**DEFAULT_LIMITS, **limits}["major_places"]


def _advice(tasks: Iterable[Task], lost: Iterable[Lost], zone_map: ZoneMap) -> Iterator[str]:
    """What each repair comes to, in a sentence; no patch is told of where a specialist decides."""
    told = {name for loss in lost for name in loss.ids}
    for task in tasks:
        if (entry := task.finding.entry).id not in told:
            place = place_in_words(entry.slots, zone_map)
            yield f"{_remedy(task)}: {place}, {fault_in_words(entry)} ({entry.id})"


def _remedy(task: Task) -> str:
    if task.routine:
        return "Repair or routine replacement"
    if not task.rot or not task.structural:
        return "Repair needed"
    if task.zone is not None and task.zone.role is Role.CRUSH:
        return "Repairable by renewing the section, which no patch may stiffen"
    if task.finding.entry.slots.get("surround") == "firm":
        return "Repairable, cut back to solid metal and weld in a patch"
    if task.no_metal_left:
        return "No solid metal left to weld to, the part has to be replaced"
    return "Repairable if solid metal is found around it"
