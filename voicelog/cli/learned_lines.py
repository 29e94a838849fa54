"""What was learned from corrections, as lines for a terminal and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

from voicelog.config.learned import Learned
from voicelog.config.learned_files import For, inspector
from voicelog.config.settings import Settings
from voicelog.domain.inert import inert
from voicelog.tongue import joined, to_word, worded

_OFFERED = to_word("After a correction that a mishearing explains, voicelog offers to remember it.")


def learned_lines(
    found: Sequence[Learned], settings: Settings, for_: For | None = None
) -> Iterator[str]:
    """Each under the file it stands in; one line where there is none.

    Args:
        found: what was learned.
        settings: in force.
        for_: whom it was looked for; None for both.
    """
    if not found:
        none = (
            worded("Nothing was learned for {whom} yet.", whom=_whom(for_, settings))
            if for_
            else worded("Nothing was learned yet.")
        )
        yield joined(" ", (none, worded(_OFFERED)))
    for (whom, file), ones in groupby(found, lambda one: (one.for_, one.file)):
        yield worded("For {whom}, in {file}:", whom=_whom(whom, settings), file=inert(str(file)))
        yield from (f"  {_told(one)}" for one in ones)


def _whom(for_: For, settings: Settings) -> str:
    return worded("the whole shop") if for_ == "shop" else inert(inspector(settings))


def taken_back(found: Sequence[Learned]) -> Iterator[str]:
    """What was taken back, a line each."""
    for one in found:
        yield worded("Taken back: {told}", told=_told(one))
    yield worded(
        "It holds for every inspection that begins from now on; earlier logs stay as they are."
    )


def as_document(found: Sequence[Learned]) -> list[dict[str, Any]]:
    """The same for other programs; what a person took out of a comment is left out."""
    return [
        {
            "heard": one.heard, "slot": one.slot, "value": one.value, "for": one.for_,
            "file": str(one.file), "line": one.line,
            **{name: told for name, told in _noted(one).items() if told},
        }
        for one in found
    ]  # fmt: skip


def _noted(one: Learned) -> dict[str, str]:
    note = one.note
    return {"say": note.say, "on": note.on, "by": note.by, "from": note.sentence}


def _told(one: Learned) -> str:
    """``"seal" → sill (zone sill), 2026-11-25, Ann, from "left seal, whole"``."""
    note, means = one.note, f"{one.slot.replace('_', ' ')} {one.value}"
    meaning = f"{note.say} ({means})" if note.say else means
    sentence = worded("from “{sentence}”", sentence=note.sentence) if note.sentence else ""
    parts = (f"“{one.heard}” → {meaning}", note.on, note.by, sentence)
    return inert(", ".join(part for part in parts if part))
