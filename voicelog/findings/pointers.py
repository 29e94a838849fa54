"""Public rules that an inspector of a region would look up for a finding: never a pass or a fail."""

from __future__ import annotations

from collections.abc import Iterable

from voicelog.domain.advice import Pointer
from voicelog.domain.entry import Finding
from voicelog.domain.grade import RuleSet
from voicelog.domain.zone import ZoneMap
from voicelog.findings.advising import Cases, Table


class Pointing:
    """Points at public rules, for many findings of one log.

    Args:
        zone_map: the places.
        rules: a table with pointers beside it (:func:`voicelog.config.pointers.with_pointers`).
        regions: short names of the regions wanted, in the order in which they are told.

    Raises:
        GrammarFault: a pointer asks for something that cannot be tested.
    """

    def __init__(self, zone_map: ZoneMap, rules: RuleSet, regions: Iterable[str]) -> None:
        rows = [
            (f"{rule.region} {rule.item}", rule)
            for region in dict.fromkeys(regions)
            for rule in rules.pointers
            if rule.region == region
        ]
        self._cases, self._table = Cases(zone_map, rules.limits), Table(rows, rules.limits)

    def at(self, finding: Finding) -> tuple[Pointer, ...]:
        """What would be looked up for this finding; nothing for what was withdrawn or has no grade."""
        if finding.withdrawn or finding.grade is None:
            return ()
        found = self._table.fitting(self._cases.of_finding(finding))
        return tuple(Pointer(r.region, r.document, r.item, r.about, r.where) for r in found)
