"""The next best reading, kept for review: which of its entries stands for which of those made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.domain.entry import Add, Change, Entry
from voicelog.domain.slot import Slots

_TELLING = ("zone", "side", "condition")


def with_runners_up(changes: Sequence[Change], others: Sequence[Entry]) -> tuple[Change, ...]:
    """The changes, each new doubtful entry with the slots of its counterpart.

    Args:
        changes: made by the reading that was taken.
        others: what the next best one would have made or changed, in order, as it would stand.
    """
    made = [change.entry for change in changes if isinstance(change, Add)]
    slots = {entry.id: _differing(entry, other) for entry, other in pairs(made, others)}
    return tuple(
        Add(replace(change.entry, runner_up=slots[change.entry.id]))
        if isinstance(change, Add) and change.entry.doubtful and change.entry.id in slots
        else change
        for change in changes
    )


def pairs(made: Sequence[Entry], others: Sequence[Entry]) -> list[tuple[Entry, Entry]]:
    """One by one in order where both made as many; else each with the most alike not yet taken."""
    if len(made) == len(others):
        return list(zip(made, others, strict=True))
    found: list[tuple[Entry, Entry]] = []
    free = list(others)
    for entry in made:
        best = max(free, key=lambda other: _likeness(entry, other), default=None)
        if best is not None and _likeness(entry, best):
            free.remove(best)
            found.append((entry, best))
    return found


def _likeness(entry: Entry, other: Entry) -> int:
    """How many of zone, side and condition both have and agree in."""
    return sum(
        name in entry.slots and entry.slots[name] == other.slots.get(name) for name in _TELLING
    )


def _differing(entry: Entry, other: Entry) -> Slots:
    """The other's slots; none where it says the same and so tells a reviewer nothing."""
    same = entry.kind is other.kind and entry.slots == other.slots
    return {} if same else other.slots
