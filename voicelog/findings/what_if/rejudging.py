"""What the verdict's three answers would be if one thing stood otherwise, without judging all anew."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from voicelog.domain.entry import Add, Change, Entry, Finding, Inspection
from voicelog.domain.grade import Grade, RuleSet
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.coverage import Coverage, cover
from voicelog.findings.drive import (
    DO_NOT_DRIVE,
    NO_DANGER_FOUND,
    NOT_ENOUGH_SEEN,
    order_of,
    undecided,
    unseen,
)
from voicelog.findings.facts_of import known_zone
from voicelog.findings.grading import as_read
from voicelog.findings.ledger import Ledger
from voicelog.findings.tasks import lost_in, tasks_of
from voicelog.findings.verdict import is_weighty, tier_of, tier_of_work
from voicelog.findings.work import BEYOND, Work, amount, worst_of

Answers = tuple[str, str, str]
"""Drive, work and tier."""

_Spot = str | None
"""A zone of the map; None for every place that the map does not know."""


class Rejudging:
    """The answers over an inspection as it would be after some changes.

    Only the findings that change are graded, and only the places they lie at are covered anew: what
    the others come to is worked out once. A change must not add to an entry's earlier ones anything
    but what :class:`~voicelog.findings.ledger.Ledger` would make of it.

    Args:
        inspection: a folded log.
        zone_map: the log's own map.
        rules: the log's own severity table.
        rails: how the vehicle's rails are made.

    Raises:
        GrammarFault: the table cannot be used.
    """

    def __init__(
        self, inspection: Inspection, zone_map: ZoneMap, rules: RuleSet, rails: Rails
    ) -> None:
        self._map, self._limits, self._rails = zone_map, rules.limits, rails
        self._seen, self._lost = inspection.coverage, inspection.lost
        self._live = {finding.entry.id: finding for finding in inspection.live}
        self._ledger = Ledger(zone_map, rules, rails)
        self._ledger.take(Add(_as_said(finding)) for finding in inspection.live)
        self._orders = {name for name, one in self._live.items() if order_of(one, zone_map)}
        self._undecided = [one for one in self._live.values() if undecided(one, zone_map)]
        self._tasks = tuple(tasks_of(self._live.values(), zone_map, rules.limits))
        self._beyond = tuple(lost_in(self._tasks))
        self._graded: dict[Grade, set[str]] = {}
        for name, finding in self._live.items():
            self._graded.setdefault(worst_of((finding,)), set()).add(name)
        self._order = {name: number for number, name in enumerate(self._live)}
        self._at: dict[_Spot, list[Finding]] = {}
        for finding in self._live.values():
            self._at.setdefault(self._spot(finding.entry.slots), []).append(finding)
        weighty = (gap for gap in inspection.gaps if is_weighty(gap, zone_map))
        self._weighty = {self._spot({"zone": gap.zone}): gap for gap in weighty}

    def preview(self, changes: Iterable[Change]) -> tuple[Finding, ...]:
        """The entries touched, as they would stand."""
        return self._ledger.preview(changes)

    def after(self, changes: Sequence[Change]) -> Answers:
        """Drive, work and tier after the changes.

        Args:
            changes: as a ledger takes them; none for the answers as they are.
        """
        then = {finding.entry.id: finding for finding in self.preview(changes)}
        changed = [finding for finding in then.values() if not finding.withdrawn]
        task = self._task(then, changed)
        tier, forbidden = tier_of_work(task), self._is_forbidden(then, changed, task)
        if tier and forbidden:  # whatever was seen
            return DO_NOT_DRIVE, task, tier
        coverage = self._coverage(then)
        tier = tier or tier_of(task, coverage, self._map, self._limits, self._lost)
        drive = DO_NOT_DRIVE if forbidden else self._drive(then, changed, coverage)
        return drive, task, tier

    def _is_forbidden(
        self, then: dict[str, Finding], changed: Sequence[Finding], task: Work
    ) -> bool:
        """Something speaks against driving, whatever was seen."""
        others = any(name not in then for name in self._orders)
        return task == BEYOND or others or any(order_of(one, self._map) for one in changed)

    def _drive(
        self, then: dict[str, Finding], changed: Sequence[Finding], coverage: Coverage
    ) -> str:
        open_yet = [one for one in self._undecided if one.entry.id not in then]
        open_yet += [finding for finding in changed if undecided(finding, self._map)]
        open_still = unseen(open_yet, coverage, self._map, self._rails)
        if self._lost or next(open_still, None) is not None:
            return NOT_ENOUGH_SEEN
        return NO_DANGER_FOUND

    def _task(self, then: dict[str, Finding], changed: Sequence[Finding]) -> Work:
        if any(then.keys().isdisjoint(loss.ids) for loss in self._beyond):
            return BEYOND  # nothing that is supposed gives that back
        tasks = [task for task in self._tasks if task.finding.entry.id not in then]
        tasks += tasks_of(changed, self._map, self._limits)
        others = (
            grade
            for grade, names in self._graded.items()
            if any(name not in then for name in names)
        )
        worst = Grade.worst(worst_of(changed), *others)
        return amount(worst, tasks, self._limits)

    def _coverage(self, then: dict[str, Finding]) -> Coverage:
        """What was looked at; of the gaps elsewhere only whether there is a weighty one."""
        spots = {self._spot(finding.entry.slots) for finding in then.values()}
        spots |= {self._spot(self._live[name].entry.slots) for name in then if name in self._live}
        there = [
            one for spot in spots for one in self._at.get(spot, ()) if one.entry.id not in then
        ]
        zones = {name: zone for name, zone in self._map.zones.items() if name in spots}
        near = cover(
            self._in_order([*there, *then.values()]), replace(self._map, zones=zones), self._rails
        )
        elsewhere = next((gap for spot, gap in self._weighty.items() if spot not in spots), None)
        gaps = near.gaps if elsewhere is None else (*near.gaps, elsewhere)
        return Coverage({**self._seen, **near.seen}, gaps)

    def _in_order(self, findings: Iterable[Finding]) -> list[Finding]:
        """In the order of the log, in which a later look settles an earlier excuse."""
        last = len(self._order)
        return sorted(findings, key=lambda one: self._order.get(one.entry.id, last))

    def _spot(self, slots: Slots) -> _Spot:
        zone = known_zone(slots, self._map)
        return None if zone is None else zone.id


def _as_said(finding: Finding) -> Entry:
    """The entry as a new one that is graded the same: with the words that the rules read."""
    return replace(as_read(finding), text=finding.words)
