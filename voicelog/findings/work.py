"""How much work it is: from nothing to replacement or a structural specialist."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal

from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.domain.zone import Role, ZoneMap
from voicelog.findings.facts_of import DEFAULT_LIMITS
from voicelog.findings.grading import worst_said
from voicelog.findings.places import fault_in_words, place_in_words
from voicelog.findings.tasks import Lost, Task, lost_in
from voicelog.tongue import joined, worded

Work = Literal["none", "surface", "local", "major", "replacement-or-specialist"]

NONE: Work = "none"
SURFACE: Work = "surface"
LOCAL: Work = "local"
MAJOR: Work = "major"
BEYOND: Work = "replacement-or-specialist"


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
        worded("Structural specialist or replacement: {loss}", loss=loss.told(zone_map))
        for loss in lost
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
            place, fault = place_in_words(entry.slots, zone_map), fault_in_words(entry)
            yield joined("", (_remedy(task), ": ", place, ", ", fault, f" ({entry.id})"))


def _remedy(task: Task) -> str:
    if task.routine:
        return worded("Repair or routine replacement")
    if not task.rot or not task.structural:
        return worded("Repair needed")
    if task.zone is not None and task.zone.role is Role.CRUSH:
        return worded("Repairable by renewing the section, which no patch may stiffen")
    if task.finding.entry.slots.get("surround") == "firm":
        return worded("Repairable, cut back to solid metal and weld in a patch")
    if task.no_metal_left:
        return worded("No solid metal left to weld to, the part has to be replaced")
    return worded("Repairable if solid metal is found around it")
