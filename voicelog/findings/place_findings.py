"""Which findings lie at which place of the map."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from voicelog.domain.entry import Finding, Inspection
from voicelog.domain.zone import ZoneMap
from voicelog.findings.coverage import Place, places_of
from voicelog.findings.facts_of import known_zone


def at_places(findings: Iterable[Finding], zone_map: ZoneMap) -> Iterator[tuple[Place, Finding]]:
    """Every graded finding with each place it lies at; not those whose zone or side nobody knows.

    Args:
        findings: those that hold.
        zone_map: the places.
    """
    for finding in findings:
        zone = known_zone(finding.entry.slots, zone_map)
        if zone is not None and finding.grade is not None:
            yield from ((place, finding) for place in places_of(finding.entry, zone))


def nowhere(inspection: Inspection, zone_map: ZoneMap) -> tuple[Finding, ...]:
    """The graded findings that lie at no place of the map: their zone, or its side, was not said.

    A drawing shows none of them, so that a list has to.

    Args:
        inspection: a folded log; what was withdrawn is left out.
        zone_map: the log's own map.
    """
    placed = {finding.entry.id for _, finding in at_places(inspection.live, zone_map)}
    return tuple(
        finding
        for finding in inspection.live
        if finding.grade is not None and finding.entry.id not in placed
    )


def refused(inspection: Inspection) -> frozenset[Place]:
    """The places that somebody tried to look at, and could not."""
    return frozenset(
        (gap.zone, gap.side)
        for gap in inspection.gaps
        if gap.entry is not None and gap.face is None and gap.why == "not-seen"
    )
