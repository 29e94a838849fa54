"""What became of each spot, before it is put into words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from voicelog.domain.comparison import Inspected, Rate
from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.domain.slot import PROBES, SURROUNDS, Slots
from voicelog.findings.grading import worst_said
from voicelog.findings.over_time.match import stage
from voicelog.findings.over_time.measures import steps
from voicelog.findings.over_time.rate import gauge_mm, no_rate, rate_between
from voicelog.findings.over_time.spots import Spot, Where
from voicelog.tongue import worded

_GIVEN_WAY = ("soft-spot", "hole")
"""Conditions that are further along whatever the rules make of them."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a finding, or of the place alone where ``then`` and ``now`` hold none.

    Args:
        change: one of :data:`~voicelog.domain.comparison.CHANGES`.
        where: the spot.
        then: what the older log says of it.
        now: what the newer log says of it.
        rate: where thickness was read twice.
        notes: what else is to be said, as parts of a sentence.
    """

    change: str
    where: Where
    then: tuple[Finding, ...] = ()
    now: tuple[Finding, ...] = ()
    rate: Rate | None = None
    notes: tuple[str, ...] = ()

    def grade(self, *, then: bool) -> Grade | None:
        """The worst grade then, or now."""
        grades = map(worst_said, self.then if then else self.now)
        known = [grade for grade in grades if grade is not None]
        return Grade.worst(*known) if known else None

    @property
    def rank(self) -> int:
        """The rank of the worst grade of both logs; -1 without one."""
        return max((g.rank for g in map(worst_said, (*self.then, *self.now)) if g), default=-1)


def of_pair(then: Spot, now: Spot, older: Inspected, newer: Inspected) -> Outcome:
    """What became of a spot that both logs speak of."""
    found = tuple(steps(then.finding.entry, now.finding.entry, gauge_mm(older) + gauge_mm(newer)))
    grew = any(step.grew for step in found)
    notes = (
        *_unsaid(then, now),
        *(step.text for step in found),
        *filter(None, [no_rate(then, now)]),
    )
    change = _change(then, now, grew=grew, shrank=any(not step.grew for step in found))
    if change == "worse" and stage(now.slots)[1] > stage(then.slots)[1]:
        notes = (worded("further along the same course"), *notes)
    rate = rate_between(then, now, older, newer)
    return Outcome(change, now.where, (then.finding,), (now.finding,), rate, notes)


def _change(then: Spot, now: Spot, *, grew: bool, shrank: bool) -> str:
    """The worst that anything says: worse, else grew, else better, else same."""
    if not (then.is_finding and now.is_finding):
        return _of_reading(then, now, grew=grew, shrank=shrank)
    graded = _rank(now) - _rank(then)
    further = stage(now.slots)[1] - stage(then.slots)[1]
    touched = _later(then.slots, now.slots, "probe", PROBES)
    held = _later(then.slots, now.slots, "surround", SURROUNDS)
    gave_way = further > 0 and now.slots.get("condition") in _GIVEN_WAY
    if graded > 0 or gave_way or (graded == 0 and max(further, touched, held) > 0):
        return "worse"
    if grew:
        return "grew"
    return "better" if graded < 0 or shrank or min(further, touched, held) < 0 else "same"


def _of_reading(then: Spot, now: Spot, *, grew: bool, shrank: bool) -> str:
    """What became of a thickness where one of the logs found nothing."""
    if now.is_finding:
        return "appeared"
    if grew:
        return "grew"
    if then.is_finding:
        return "repaired" if shrank else "better"
    return "better" if shrank else "same"


def _rank(spot: Spot) -> int:
    grade = worst_said(spot.finding)
    return -1 if grade is None else grade.rank


def _later(then: Slots, now: Slots, slot: str, order: tuple[str, ...]) -> int:
    """How much further down the list the newer word stands; 0 where one was not said."""
    a, b = then.get(slot), now.get(slot)
    return order.index(str(b)) - order.index(str(a)) if a in order and b in order else 0


def _unsaid(then: Spot, now: Spot) -> Iterator[str]:
    """What keeps one from being sure that both speak of one spot."""
    if then.where.side != now.where.side:
        yield (
            worded("the side was not said then, so it may be another spot")
            if then.where.side is None
            else worded("the side was not said now, so it may be another spot")
        )


def joined(outcomes: Iterable[Outcome]) -> Iterator[Outcome]:
    """Left and right told together where everything about them is the same."""
    alike: defaultdict[object, list[Outcome]] = defaultdict(list)
    for outcome in outcomes:
        both = replace(outcome.where, side=None)
        ids = [tuple(f.entry.id for f in them) for them in (outcome.then, outcome.now)]
        alike[outcome.change, both, *ids, outcome.rate, outcome.notes].append(outcome)
    for found in alike.values():
        if {outcome.where.side for outcome in found} == {"left", "right"}:
            yield replace(found[0], where=replace(found[0].where, side="both"))
        else:
            yield from found
