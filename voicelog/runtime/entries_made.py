"""What the changes of one utterance come to, for words that are read again outside their log."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from voicelog.domain.entry import Add, Amend, Change, Entry, Kind, Replace, amended, entry_id


def come_to(changes: Iterable[Change]) -> list[Change]:
    """The changes with each new entry as it stands in the end; one taken back at once is left out.

    "Surface rust, next item, the scraper went through it" adds an entry and amends it in one breath:
    who took the addition alone would lose the hole.
    """
    made: dict[str, Entry | None] = {}
    others: list[Change] = []
    for change in changes:
        name = entry_id(change)
        if isinstance(change, Add):
            made[name] = change.entry
        elif name in made:
            made[name] = _after(made[name], change)
        else:
            others.append(change)
    return [*others, *(Add(entry) for entry in made.values() if entry is not None)]


def made_by(changes: Iterable[Change]) -> list[Entry]:
    """The new entries alone, in order."""
    return [change.entry for change in changes if isinstance(change, Add)]


def in_place_of(entry: Entry, made: Sequence[Entry]) -> list[Change]:
    """An entry becomes the first of those made; the rest is added."""
    first, *rest = made
    return [Replace(taken(entry, first)), *map(Add, rest)]


def taken(entry: Entry, other: Entry) -> Entry:
    """Another entry under the id, utterance and time of this one."""
    return replace(other, id=entry.id, utterance=entry.utterance, at=entry.at, runner_up={})


def is_idle(change: Change) -> bool:
    """True for a remark and nothing more."""
    return isinstance(change, Add) and change.entry.kind is Kind.REMARK


def _after(entry: Entry | None, change: Change) -> Entry | None:
    """A new entry after one more change of the same breath; None once it is taken back."""
    return amended(entry, change) if entry is not None and isinstance(change, Amend) else None
