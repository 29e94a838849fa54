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
    def no_metal_left(self) -> bool:
        """True when the inspector said that no solid metal is left around it."""
        return self.finding.entry.slots.get("surround") == "none"


def work(
    live: Sequence[Finding], zone_map: ZoneMap, limits: Mapping[str, float]
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
        zone_map: the places.
        limits: the severity table's numbers.
    """
    tasks = tuple(tasks_of(live, zone_map, limits))
    answer = amount(worst_of(live), tasks, zone_map, limits)
    return answer, (*_beyond(tasks, zone_map), *_advice(tasks, zone_map))


def worst_of(live: Iterable[Finding]) -> Grade:
    """The worst grade of all; cosmetic where there is none."""
    grades = [grade for grade in map(worst_said, live) if grade is not None]
    return Grade.worst(Grade.COSMETIC, *grades)


def amount(
    worst: Grade, tasks: Sequence[Task], zone_map: ZoneMap, limits: Mapping[str, float]
) -> Work:
    """The amount of work alone.

    Args:
        worst: the worst grade of all findings.
        tasks: those that need repair.
        zone_map: the places.
        limits: the severity table's numbers.
    """
    if worst.rank < Grade.REPAIR.rank:
        return SURFACE if worst is Grade.TREAT else NONE
    if any(_beyond(tasks, zone_map)):
        return BEYOND
    return MAJOR if _is_major(tasks, limits) else LOCAL


def _beyond(tasks: Sequence[Task], zone_map: ZoneMap) -> Iterator[str]:
    """What is beyond a repair, as sentences."""
    yield from _kinks(tasks, zone_map)
    yield from _bare(tasks, zone_map)
    yield from _both_rails(tasks)


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


def _kinks(tasks: Iterable[Task], zone_map: ZoneMap) -> Iterator[str]:
    for task in tasks:
        bent = task.finding.entry.slots.get("condition") == "deformation"
        if task.main and bent and worst_said(task.finding) is Grade.UNSAFE:
            yield _sentence("Replacement frame or a structural specialist", task, zone_map)


def _bare(tasks: Iterable[Task], zone_map: ZoneMap) -> Iterator[str]:
    start = "Replacement frame or a structural specialist, no solid metal left"
    for task in tasks:
        if task.main and task.no_metal_left:
            yield _sentence(start, task, zone_map)


def _both_rails(tasks: Iterable[Task]) -> Iterator[str]:
    """One sentence for every station of the main members that is rotten on both sides."""
    rotten: dict[str, dict[str, Task]] = {}
    for task in tasks:
        if task.main and task.rot and task.zone is not None:
            rotten.setdefault(task.zone.id, {}).update(dict.fromkeys(task.sides, task))
    for sides in rotten.values():
        if {"left", "right"} <= sides.keys() and (zone := sides["left"].zone) is not None:
            ids = dict.fromkeys(sides[side].finding.entry.id for side in ("left", "right"))
            yield (
                "Replacement frame or a structural specialist: "
                f"{title_in_words(zone)}, rotten on both sides ({', '.join(ids)})"
            )


def _is_major(tasks: Iterable[Task], limits: Mapping[str, float]) -> bool:
    structural = [task for task in tasks if task.structural]
    if any(task.no_metal_left and not task.routine for task in structural):
        return True
    places = {
        (task.zone.id if task.zone else "", side) for task in structural for side in task.sides
    }
    return len(places) >= {**DEFAULT_LIMITS, **limits}["major_places"]


def _advice(tasks: Iterable[Task], zone_map: ZoneMap) -> Iterator[str]:
    """What each repair comes to, in a sentence."""
    for task in tasks:
        yield _sentence(_remedy(task), task, zone_map)


def _remedy(task: Task) -> str:
    if task.routine:
        return "Repair or routine replacement"
    if not task.rot or not task.structural:
        return "Repair needed"
    if task.finding.entry.slots.get("surround") == "firm":
        return "Repairable, cut back to solid metal and weld in a patch"
    if task.no_metal_left:
        return "No solid metal left to weld to, the part has to be replaced"
    return "Repairable if solid metal is found around it"


def _sentence(start: str, task: Task, zone_map: ZoneMap) -> str:
    entry = task.finding.entry
    place = place_in_words(entry.slots, zone_map)
    return f"{start}: {place}, {fault_in_words(entry)} ({entry.id})"
