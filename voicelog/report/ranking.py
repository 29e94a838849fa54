"""Which finding comes first: the worst, and among those alike metal that is gone, and weighty metal."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.zone import Role, ZoneMap
from voicelog.findings.facts_of import known_zone
from voicelog.findings.grading import worst_said

_WEIGHT: Mapping[Role, int] = {
    Role.CRITICAL: 0, Role.LOAD_PATH: 1, Role.FLUID_LINE: 2, Role.CRUSH: 2, Role.SUPPORT: 3,
    Role.PANEL: 4, Role.ATTACHED: 5,
}  # fmt: skip
"""Ours: what holds wheels and steering, what holds the vehicle together, what may leak or fold."""

_STRUCTURE = 3
"""The last weight of what carries anything; a hole in sheet or in a bracket for the spare wheel is
no worse than scale on a mounting."""
_THROUGH = "through"


def ranked(
    live: Iterable[Finding], zone_map: ZoneMap, against: Collection[str] = ()
) -> tuple[Finding, ...]:
    """The graded findings, the worst first; those that it holds for equal stay as they were said.

    By the worse of computed and spoken grade; then what speaks against driving before what does not;
    then structure rusted right through before what is only eaten, bent or patched; then by the role
    of the metal (a place that nobody knows weighs as much as any); then what was proven before what
    was not.

    Args:
        live: the entries that hold.
        zone_map: the places.
        against: ids of the entries that speak against driving.
    """
    graded = [f for f in live if f.entry.kind is Kind.FINDING and worst_said(f) is not None]
    return tuple(sorted(graded, key=lambda finding: _key(finding, zone_map, against)))


def _key(
    finding: Finding, zone_map: ZoneMap, against: Collection[str]
) -> tuple[int, bool, bool, int, bool, bool]:
    grade, zone = worst_said(finding), known_zone(finding.entry.slots, zone_map)
    rank = -1 if grade is None else grade.rank
    weight = 0 if zone is None else _WEIGHT[zone.role]
    calm, minor = finding.entry.id not in against, zone is not None and not zone.main
    whole = weight > _STRUCTURE or not _is_through(finding)
    return -rank, calm, whole, weight, minor, finding.unproven


def _is_through(finding: Finding) -> bool:
    """There is no metal left in one spot of it at least."""
    slots = finding.entry.slots
    return slots.get("condition") == "hole" or slots.get("probe") == _THROUGH
