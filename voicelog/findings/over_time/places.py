"""Places compared: what both logs saw, what only one of them saw, and why it was not seen again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from voicelog.domain.comparison import Inspected
from voicelog.domain.entry import Kind, Seen
from voicelog.domain.inert import inert
from voicelog.findings.coverage import Place
from voicelog.findings.over_time.spots import Look, Where
from voicelog.tongue import worded

_ANYWHERE = (None, None, None)


def lost_places(older: Inspected, newer: Inspected, told: Iterable[Where]) -> Iterator[Where]:
    """Places of both maps, and insides of them, that only the older log saw.

    Args:
        older: saw them.
        newer: did not.
        told: spots that are told of already.
    """
    named = {(where.zone, where.side, where.inside) for where in told}
    for (zone, side), now in newer.inspection.coverage.items():
        then = older.inspection.coverage.get((zone, side))
        for inside in (False, True):
            lost = then is not None and _saw(then, inside=inside) and not _saw(now, inside=inside)
            known = {(zone, side, inside), (zone, None, inside)} & named
            if lost and not known and not (inside and now.inside is None):
                yield Where(zone, side, inside, _ANYWHERE)


def _saw(seen: Seen, *, inside: bool) -> bool:
    return seen.inside is True if inside else seen.looked


def counted(older: Inspected, newer: Inspected) -> dict[str, int]:
    """How many places of both maps were looked at both times, only then, only now, never."""
    then, now = older.inspection.coverage, newer.inspection.coverage
    shared: list[Place] = [place for place in now if place in then]
    pairs = [(then[place].looked, now[place].looked) for place in shared]
    names = {"both": (True, True), "then": (True, False), "now": (False, True)}
    found = {name: pairs.count(pair) for name, pair in names.items()}
    return {**found, "never": pairs.count((False, False))}


def why_lost(
    where: Where, older: Inspected, newer: Inspected, looks: Sequence[Look]
) -> tuple[str, ...]:
    """Why a spot was not looked at again, as far as anybody said; at most one part of a sentence.

    Args:
        where: the spot.
        older: saw it.
        newer: did not.
        looks: what the newer log looked at in its zone.
    """
    if where.zone in older.zone_map and where.zone not in newer.zone_map:
        return (worded("the newer map has no such place"),)
    reasons = list(_reasons(where, newer))
    if reasons:
        return (worded("the reason given now: {reason}", reason=inert(reasons[-1], 200)),)
    if any(_one_side(look.where, where) for look in looks):
        if where.inside:
            return (worded("the place was looked at now, but not inside"),)
        return (worded("the place was looked at now, but not surely this part of it"),)
    return ()


def _reasons(where: Where, newer: Inspected) -> Iterator[str]:
    for entry in (finding.entry for finding in newer.inspection.live):
        here = entry.slots.get("zone") == where.zone
        there = where.side is None or entry.slots.get("side") in (where.side, "both", None)
        if entry.kind is Kind.NOT_SEEN and entry.reason and here and there:
            yield entry.reason


def _one_side(look: Where, where: Where) -> bool:
    return look.side is None or where.side is None or look.side == where.side
