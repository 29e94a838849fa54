"""Repairs that only the newer log tells of, and what they were made for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from voicelog.findings.over_time.outcome import Outcome
from voicelog.findings.over_time.spots import Spot

_NO_REPAIR_OF = frozenset(
    ("old-repair", "filler", "recoated", "oil-film", "debris", "blocked-drain")
)
"""Conditions that a repair told of later says nothing about."""


def repaired(
    only_older: Iterable[Spot], only_newer: Iterable[Spot]
) -> tuple[tuple[Outcome, ...], tuple[Spot, ...], tuple[Spot, ...]]:
    """Findings at whose place the newer log tells of a repair that the older did not know.

    Returns:
        One outcome for each such repair with every finding that stood there; the older and the newer
        spots that this does not explain, in order.
    """
    new = tuple(only_newer)
    made: dict[int, list[Spot]] = {}
    left: list[Spot] = []
    for then in only_older:
        found = next(_repairs_of(then, new), None)
        if found is None:
            left.append(then)
        else:
            made.setdefault(found, []).append(then)
    outcomes = tuple(
        Outcome("repaired", new[n].where, tuple(s.finding for s in then), (new[n].finding,))
        for n, then in made.items()
    )
    return outcomes, tuple(left), tuple(spot for n, spot in enumerate(new) if n not in made)


def _repairs_of(then: Spot, new: tuple[Spot, ...]) -> Iterator[int]:
    """Numbers of the repairs told of where the finding was, on the same side and without doubt."""
    if not then.is_finding or then.slots.get("condition") in _NO_REPAIR_OF:
        return
    for n, spot in enumerate(new):
        same = spot.where.side == then.where.side and spot.where.may_be(then.where)
        if same and _is_repair(spot):
            yield n


def _is_repair(spot: Spot) -> bool:
    """A repair that somebody may have meant, or guessed, makes up for nothing."""
    sure = not spot.finding.entry.doubtful and spot.slots.get("certainty") != "tentative"
    return sure and spot.slots.get("condition") == "old-repair"
