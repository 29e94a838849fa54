"""The spoken words on one page: what there is to say, in the order in which it is said."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Said:
    """One thing that can be said.

    Args:
        name: what it is, or what saying it does.
        ways: how people say it; the name itself is left out.
    """

    name: str
    ways: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """Things that are said in the same place of a sentence.

    Args:
        title: what they are.
        rows: each of them.
        note: a sentence on how to use them; empty where none is needed.
    """

    title: str
    rows: tuple[Said, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class WordsPage:
    """The page.

    Args:
        title: with the vehicle's kind.
        under: what to know before anything else.
        sections: as they are printed.
        foot: where they come from, and what the tool does not do.
    """

    title: str
    under: tuple[str, ...]
    sections: tuple[Section, ...]
    foot: str
