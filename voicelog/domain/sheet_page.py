"""The sheet that people read from, as it is printed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One sentence.

    Args:
        id: what its recording is called.
        say: its utterances; a pause is made between them.
    """

    id: str
    say: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SheetPage:
    """The page.

    Args:
        title: with the map it was drawn from.
        under: what it is for.
        consent: what somebody agrees to, a paragraph each.
        choices: what may become of the recordings; one is ticked.
        blanks: what is filled in by hand.
        steps: how it is done.
        noises: columns to tick, a sentence at a time.
        rows: the sentences.
        foot: how they were made, and that nothing is uploaded.
    """

    title: str
    under: str
    consent: tuple[str, ...]
    choices: tuple[str, ...]
    blanks: tuple[str, ...]
    steps: tuple[str, ...]
    noises: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    foot: str
