"""Two inspections of one vehicle compared: what appeared, grew, was repaired, was not seen again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from voicelog.domain.comparison import WORST_FIRST, Comparison, Difference, Inspected, Standing
from voicelog.findings.over_time.match import matched
from voicelog.findings.over_time.outcome import Outcome, joined, of_pair
from voicelog.findings.over_time.places import counted, lost_places, why_lost
from voicelog.findings.over_time.repairs import repaired
from voicelog.findings.over_time.spots import Spot, Where, by_zone, looks, looks_at, spots
from voicelog.findings.over_time.warnings import milder, warnings
from voicelog.findings.over_time.words import Sentences
from voicelog.tongue import to_word, worded

_NOT_FELT = frozenset(("recoated", "oil-film", "debris", "blocked-drain", "leak", "missing-part"))
"""Conditions of which metal that is firm under the tool says nothing; common practice, no source."""

_OPEN = ("not-looked-at-again", "gone", "better")
"""Changes after which a finding may be as bad as it was."""

_HIDING: Mapping[str, str] = {
    "recoated": to_word("fresh coating lies there now and can hide it"),
    "oil-film": to_word("oil or wax lies there now and can hide it"),
    "filler": to_word("filler is there now and can hide it"),
    "debris": to_word("mud or dirt lies there now and can hide it"),
}


def compare(older: Inspected, newer: Inspected) -> Comparison:
    """What became of everything that was said then, and what was said only now.

    Findings are paired by place and by the course they are on (surface rust, scale, pitting, hole are
    one), as many as can be, at the least sum of what speaks against each pair. *Both* sides count as
    two and are told together again where they went the same way. Nothing is called mended because it
    was not said again; a place that nobody looked at again stays open. Where the rules differ, the
    older findings count as :attr:`~voicelog.domain.comparison.Inspected.regraded` has them. The
    order is the caller's, even where the clocks say otherwise: that is a warning.

    Args:
        older: the inspection to compare with.
        newer: the inspection that is compared.

    Returns:
        Every finding of either log that holds, once for each of its sides, and every place that only
        the older log saw.
    """
    told = Sentences(older, newer)
    outcomes = sorted(joined(_Comparing(older, newer).outcomes()), key=_order(older, newer))
    return Comparison(
        older=older.id,
        newer=newer.id,
        older_at=older.at,
        newer_at=newer.at,
        differences=tuple(_difference(outcome, told.of(outcome)) for outcome in outcomes),
        warnings=(*warnings(older, newer), *milder(older, newer, _open_still(outcomes))),
        then=_standing(older),
        now=_standing(newer),
        places=counted(older, newer),
    )


class _Comparing:
    """Both inspections with everything that is asked of them more than once."""

    def __init__(self, older: Inspected, newer: Inspected) -> None:
        self._older, self._newer = older, newer
        self._looks_then, self._looks_now = by_zone(looks(older)), by_zone(looks(newer))
        self._spots_now = spots(newer.inspection)
        self._told_now = by_zone(self._spots_now)

    def outcomes(self) -> Iterator[Outcome]:
        """What became of every spot, and of every place that only the older log saw."""
        then = spots(self._older.regraded or self._older.inspection)
        found = matched(then, self._spots_now)
        for pair in found.pairs:
            yield of_pair(*pair, self._older, self._newer)
        mended, left, new = repaired(found.only_older, found.only_newer)
        alone = [self._left(spot) for spot in left if spot.is_finding]
        yield from (*mended, *alone, *(self._appeared(spot) for spot in new if spot.is_finding))
        open_still = [one.where for one in alone if one.change == "not-looked-at-again"]
        for where in lost_places(self._older, self._newer, open_still):
            yield Outcome("not-looked-at-again", where, notes=self._why(where))

    def _left(self, then: Spot) -> Outcome:
        """What became of a finding that the newer log does not speak of."""
        again = looks_at(then.where, self._looks_now[then.where.zone], self._newer.zone_map)
        if not again:
            notes = self._why(then.where)
            return Outcome("not-looked-at-again", then.where, (then.finding,), notes=notes)
        clear = [look.finding for look in again if look.proves_clear]
        if clear and then.slots.get("condition") not in _NOT_FELT:
            return Outcome("repaired", then.where, (then.finding,), (clear[-1],))
        return Outcome("gone", then.where, (then.finding,), notes=tuple(self._besides(then.where)))

    def _why(self, where: Where) -> tuple[str, ...]:
        return why_lost(where, self._older, self._newer, self._looks_now[where.zone])

    def _besides(self, where: Where) -> Iterator[str]:
        """What the newer log says of the spot all the same: what lies over it, and what else is there."""
        there = [s for s in self._told_now[where.zone] if s.is_finding and s.where.may_be(where)]
        yield from dict.fromkeys(filter(None, map(_covering, there)))
        others = [str(s.slots.get("condition", "")) for s in there if not _covering(s)]
        if named := ", ".join(dict.fromkeys(filter(None, others))).replace("-", " "):
            yield worded("told of there now: {what}", what=named)

    def _appeared(self, now: Spot) -> Outcome:
        """A finding that the older log does not speak of; new only where somebody looked then."""
        zone = now.where.zone
        note = worded("nobody looked there then, so nobody knows since when")
        if zone in self._newer.zone_map and zone not in self._older.zone_map:
            note = worded("the older map has no such place, so nobody knows since when")
        elif looks_at(now.where, self._looks_then[zone], self._older.zone_map):
            note = worded("the place was looked at then, and nothing of the kind was said of it")
        return Outcome("appeared", now.where, (), (now.finding,), notes=(note,))


def _covering(spot: Spot) -> str:
    """What lies over the metal there, as part of a sentence; empty where nothing does."""
    hiding = _HIDING.get(str(spot.slots.get("condition", "")), "")
    return worded(hiding) if hiding else ""


def _order(older: Inspected, newer: Inspected) -> Callable[[Outcome], tuple[object, ...]]:
    """The worst first; within a grade as the vehicle is walked."""
    walk = {zone: n for n, zone in enumerate({**newer.zone_map.zones, **older.zone_map.zones})}

    def key(outcome: Outcome) -> tuple[object, ...]:
        told = WORST_FIRST.index(outcome.change)
        where = outcome.where
        place = (walk.get(where.zone, len(walk)), where.zone, where.side or "", where.inside)
        return told, -outcome.rank, *place

    return key


def _open_still(outcomes: Iterable[Outcome]) -> int:
    """How many findings of then may be as bad as they were, or worse."""
    return sum(bool(one.then) and one.change in _OPEN for one in outcomes)


def _difference(outcome: Outcome, text: str) -> Difference:
    return Difference(
        change=outcome.change,
        zone=outcome.where.zone,
        side=outcome.where.side,
        text=text,
        older=tuple(finding.entry.id for finding in outcome.then),
        newer=tuple(finding.entry.id for finding in outcome.now),
        rate=outcome.rate,
        then=outcome.grade(then=True),
        now=outcome.grade(then=False),
    )


def _standing(one: Inspected) -> Standing:
    verdict = one.inspection.verdict
    return Standing(
        one.subject, one.vin, one.zone_map.id, verdict.drive, verdict.work, verdict.tier
    )
