"""Numbers, times and lists in words that read the same everywhere."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.local_time import in_words, zone_of
from voicelog.tongue import Worded, worded, worded_many

_ENTRIES = re.compile(r" \((e\d+\.\d+(?:, e\d+\.\d+)*)\)(\.?)$")


def opening(facts: Iterable[Fact]) -> Mapping[str, Any]:
    """What the line that opened the log says, with its time under ``at``; empty without one."""
    fact = next((fact for fact in facts if fact.type == "opened"), None)
    return {} if fact is None else {"at": fact.at, **fact.body}


def raised(text: str) -> str:
    """The text as a sentence begins."""
    return text[:1].upper() + text[1:]


def short(text: str, longest: int) -> str:
    """The text, cut where it has no room."""
    return text if len(text) <= longest else f"{text[: longest - 1].rstrip(' ,;.')}…"


def counted(number: int, one: str, many: str) -> Worded:
    """A number with its noun, for example ``1 finding`` or ``3 findings``.

    Args:
        number: how many.
        one: the text for one, with ``{count}`` for the number; a literal, for the catalogue.
        many: the same for several.
    """
    return worded_many(one, many, number, count=grouped(number))


def grouped(number: float) -> str:
    """A number with a point for decimals and its thousands parted by spaces, whatever the locale."""
    return f"{number:,.10g}".replace(",", " ")


def listed(names: Sequence[str], most: int, by: str = ", ") -> str:
    """Names one after the other, parted by ``by``; what is beyond ``most`` is counted."""
    more = len(names) - most
    return by.join(names[:most]) + (
        (" " + worded("and {more} more", more=more)) if more > 0 else ""
    )


def quoted(text: str) -> str:
    """Somebody's own words."""
    return f"“{text}”"


def in_local_time(at: str, opened: Mapping[str, Any]) -> str:
    """A time as the log's place had it, with its distance from UTC; the text itself if it is none.

    Args:
        at: RFC 3339.
        opened: what opened the log; ``utc_offset_min`` holds the place's minutes ahead of UTC.
    """
    return in_words(at, zone_of(opened))


def entries_of(sentences: Iterable[str]) -> frozenset[str]:
    """The entries in parentheses at the end of sentences."""
    found = (match for match in map(_ENTRIES.search, sentences) if match)
    return frozenset(entry for match in found for entry in match.group(1).split(", "))


def with_numbers(sentence: str, numbers: Mapping[str, int]) -> str:
    """A sentence that ends with entries in parentheses, with their numbers on the drawing instead."""
    match = _ENTRIES.search(sentence)
    if match is None:
        return sentence
    found = [numbers.get(entry) for entry in match.group(1).split(", ")]
    known = [str(number) for number in found if number is not None]
    told = worded_many(
        " (finding {numbers})", " (findings {numbers})", len(known), numbers=", ".join(known)
    )
    return sentence[: match.start()] + (told if known else "") + match.group(2)
