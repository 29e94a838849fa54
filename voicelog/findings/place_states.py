"""Every place of the map, all that was said of it together."""

from __future__ import annotations

from collections.abc import Sequence

from voicelog.domain.advice import PlaceState
from voicelog.domain.entry import Finding, Inspection, Seen
from voicelog.domain.grade import Grade
from voicelog.domain.zone import ZoneMap
from voicelog.findings.coating import coatings
from voicelog.findings.coverage import Place, places
from voicelog.findings.grading import worst_said
from voicelog.findings.place_findings import at_places, refused

_UNSEEN = Seen(looked=False, probed=False, inside=None, photo=False)


def place_states(inspection: Inspection, zone_map: ZoneMap) -> tuple[PlaceState, ...]:
    """The state of each place, in the order of the walk.

    A finding on both sides counts at both. One whose zone or side nobody said counts at no place:
    :func:`voicelog.findings.place_findings.nowhere` tells of those.

    Args:
        inspection: a folded log.
        zone_map: the log's own map.
    """
    found: dict[Place, list[Finding]] = {}
    for place, finding in at_places(inspection.live, zone_map):
        found.setdefault(place, []).append(finding)
    could_not, rated = refused(inspection), coatings(inspection, zone_map)
    states = []
    for _, place in places(zone_map):
        seen = inspection.coverage.get(place, _UNSEEN)
        findings = sorted(found.get(place, ()), key=lambda one: -_rank(one))  # of equals as said
        states.append(
            PlaceState(
                zone=place[0],
                side=place[1],
                seen=seen,
                grade=worst_said(findings[0]) if findings else None,
                entries=tuple(finding.entry.id for finding in findings),
                unproven=_is_unproven(findings),
                refused=place in could_not and not seen.looked,
                coating=rated.get(place),
            )
        )
    return tuple(states)


def _rank(finding: Finding) -> int:
    grade = worst_said(finding)
    return -1 if grade is None else grade.rank


def _is_unproven(worst_first: Sequence[Finding]) -> bool:
    """True where one of the findings that give the place its grade is unproven."""
    if not worst_first:
        return False
    worst: Grade | None = worst_said(worst_first[0])
    return any(finding.unproven for finding in worst_first if worst_said(finding) is worst)
