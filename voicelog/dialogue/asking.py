"""Which question the tool asks after an utterance."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from voicelog.dialogue.amendments import BAD_PROBES
from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.scene import Scene
from voicelog.domain.entry import Add, Change, Entry, Kind
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Role

_WEIGHTY = (Role.CRITICAL, Role.LOAD_PATH, Role.CRUSH, Role.FLUID_LINE)
"""Where a mishearing can hide danger, whatever the fault."""
_GRAVE = ("hole", "crack", "leak")
"""Faults that can be unsafe, or forbid driving, at any place."""


def next_question(
    scene: Scene, changes: Sequence[Change], touched: Iterable[Entry]
) -> tuple[Ask | None, tuple[str, ...]]:
    """What to ask about the entries of an utterance, and which of them are to be asked about next.

    Where metal that carries, or a fault that can be dangerous, is concerned comes first.

    Args:
        scene: the entries as they stand.
        changes: of the utterance, with what the next best reading gives the new ones.
        touched: the entries that it made or changed, and those that waited.
    """
    others = {c.entry.id: c.entry.runner_up for c in changes if isinstance(c, Add)}
    open_ones = [(e, _about(scene, e, others.get(e.id, {}))) for e in touched]
    asks = [(e, ask) for e, ask in open_ones if ask is not None]
    asks.sort(key=lambda pair: not _matters(scene, pair[0]))
    if not asks:
        return None, ()
    return asks[0][1], tuple(entry.id for entry, _ in asks[1:])


def _about(scene: Scene, entry: Entry, other: Slots) -> Ask | None:
    """The entry's own question; failing one, whether it is right, where that matters."""
    if entry.questions:
        question = entry.questions[0]
        return Ask(What.SLOT, entry.id, slot=question.slot, options=question.options)
    asked = entry.kind in (Kind.FINDING, Kind.CLEAR)
    if not (asked and entry.doubtful and _matters(scene, entry)):
        return None
    offered = {"zone", "condition"} <= other.keys()
    return Ask(What.CONFIRM, entry.id, instead=other if offered else {})


def _matters(scene: Scene, entry: Entry) -> bool:
    """May a mistake here cost more than a coat of paint?"""
    zone = scene.zone_map.zones.get(str(entry.slots.get("zone", "")))
    weighty = zone is None or zone.role in _WEIGHTY
    grave = entry.slots.get("condition") in _GRAVE or entry.slots.get("probe") in BAD_PROBES
    return weighty or grave or entry.slots.get("spoken_grade") == "unsafe"
