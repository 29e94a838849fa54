"""Other readings of an entry's sound: what the log kept of them, and when two are the same."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from voicelog.domain.change_json import changes_from_json
from voicelog.domain.entry import Amend, Entry, Kind, amended
from voicelog.domain.slot import Slots
from voicelog.runtime.entries_made import come_to, made_by, taken


def kept_runner_up(entry: Entry, body: Mapping[str, Any]) -> Iterator[Entry]:
    """What the next best reading made of an entry, as the line of its utterance kept it.

    What nobody can read any more is passed over: nothing that holds depends on it.
    """
    reading = body.get("reading")
    documents = reading.get("runner_up", ()) if isinstance(reading, Mapping) else ()
    try:
        changes = come_to(changes_from_json(documents))
    except (KeyError, TypeError, ValueError):
        return
    made = made_by(changes)
    meant = [other for other in made if other.slots == entry.runner_up] if entry.runner_up else []
    if not meant and 0 < number_of(entry) <= len(made):
        meant = [made[number_of(entry) - 1]]
    yield from (taken(entry, other) for other in meant if other.kind is not Kind.REMARK)
    yield from (amended(entry, c) for c in changes if isinstance(c, Amend) and c.entry == entry.id)


def number_of(entry: Entry) -> int:
    """Which entry of its utterance it is, from 1; 0 for one that was split off at the bench."""
    line, _, number = entry.id.removeprefix("e").partition(".")
    return int(number) if entry.utterance == f"u{line}" else 0


def alike(one: Entry, other: Entry) -> bool:
    """True where both say the same; the loss that a thickness means is not said."""
    return one.kind is other.kind and _said(one.slots) == _said(other.slots)


def _said(slots: Slots) -> Slots:
    worked_out = {"loss_percent"} if "thickness_mm" in slots else set()
    return {name: value for name, value in slots.items() if name not in worked_out}
