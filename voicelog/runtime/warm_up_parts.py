"""What the sentences of a warm-up are put together of: places, faults, details.

Each is said in the plainest ways that the grammar in force has for it: short, and of common words.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from voicelog.config.grammar import Grammar
from voicelog.domain.reading import Phrase
from voicelog.domain.slot import Slots

_CLOSE_TO_NAME = 4
"""Ways to say one thing that are tried: its plainest."""

FIRM, BAD, LENGTH, SHARE = "firm", "bad", "length", "share"
"""Kinds of details: firm metal, metal that gives, a length, a share of the surface."""

_BAD_PROBES = ("soft", "dents", "dull", "moves")
_DETAILS: Mapping[str, tuple[str, ...]] = {
    "staining": (FIRM, SHARE),
    "surface-rust": (FIRM, SHARE),
    "rust-weep": (FIRM,),
    "peeling-coating": (FIRM, SHARE),
    "blistering": (FIRM, SHARE),
    "chipped-coating": (FIRM,),
    "recoated": (FIRM,),
    "scale": (FIRM, BAD),
    "delamination": (BAD,),
    "pack-rust": (BAD,),
    "pitting": (FIRM, LENGTH),
    "thinning": (BAD,),
    "hole": (LENGTH,),
    "crack": (LENGTH,),
}
"""What may be said along with a condition; the others go without. Ours, so that it makes sense."""

_ENGLISH_LENGTHS = (
    "ten millimetres", "two inches", "half an inch", "twenty five millimetres", "four inches",
    "three quarters of an inch", "fifteen millimetres", "one point five millimetres",
    "eight millimetres", "six inches",
)  # fmt: skip
_ENGLISH_SHARES = ("thirty percent", "fifteen percent", "sixty percent", "eighty percent")


@dataclass(frozen=True, slots=True)
class Part:
    """One end of a sentence.

    Args:
        text: its words.
        slots: what it settles.
        of: the meaning that it is one way to say.
        detail: the kind of detail said along; empty for none.
    """

    text: str
    slots: Slots
    of: str
    detail: str = ""


def sides(grammar: Grammar) -> Iterator[Part]:
    """Left and right as the grammar says them first."""
    for side in ("left", "right"):
        ways = (p for p in grammar.vocabulary.phrases if (p.slot, p.value) == ("side", side))
        yield from (Part(p.text, _slots(p), side) for p in islice(ways, 1))


def places(grammar: Grammar, weights: Mapping[str, float]) -> Iterator[Part]:
    """Zones by their plainest names."""
    for zone in grammar.zone_map.zones.values():
        for name in _plainest(grammar, "zone", zone.id, weights, 2, called=zone.title.lower()):
            yield Part(name.text, _slots(name), zone.id)


def faults(grammar: Grammar, weights: Mapping[str, float]) -> Iterator[Part]:
    """Conditions by their plainest names, each with the details that may go with it, and without."""
    details = {
        FIRM: list(_probes(grammar, weights, ("firm",), 6)),
        BAD: list(_probes(grammar, weights, _BAD_PROBES, 2)),
        LENGTH: _amounts(grammar, _ENGLISH_LENGTHS, "millimetre"),
        SHARE: _amounts(grammar, _ENGLISH_SHARES, "percent"),
    }
    for condition in sorted({p.value for p in grammar.vocabulary.phrases if p.slot == "condition"}):
        called = condition.replace("-", " ")
        for name in _plainest(
            grammar, "condition", condition, weights, _CLOSE_TO_NAME, called=called
        ):
            yield Part(name.text, _slots(name), condition)
            for kind in _DETAILS.get(condition, ()):
                for detail in details[kind]:
                    told = {**detail.slots, **_slots(name)}
                    yield Part(f"{name.text}, {detail.text}", told, condition, kind)


def _probes(
    grammar: Grammar, weights: Mapping[str, float], values: Iterable[str], most: int
) -> Iterator[Part]:
    for value in values:
        for phrase in _plainest(grammar, "probe", value, weights, most, longest=4):
            yield Part(phrase.text, _slots(phrase), value)


def _amounts(grammar: Grammar, english: Sequence[str], unit: str) -> list[Part]:
    """Numbers with a unit: in the grammar's own words where it has them, else in English."""
    numerals = grammar.vocabulary.numerals
    numbers = [p.text for p in numerals if p.slot == "number" and p.value in ("2", "3", "10", "20")]
    units = [p.text for p in numerals if (p.slot, p.value) == ("unit", unit)]
    own = [f"{number} {units[0]}" for number in numbers if units]
    return [Part(text, {}, unit) for text in own or english]


def _plainest(
    grammar: Grammar,
    slot: str,
    value: str,
    weights: Mapping[str, float],
    most: int,
    *,
    called: str = "",
    longest: int = 2,
) -> list[Phrase]:
    """The ways to say something that are short and made of common words; its own name before all."""
    ways = [
        phrase
        for phrase in grammar.vocabulary.phrases
        if (phrase.slot, phrase.value) == (slot, value)
        and not phrase.misheard
        and (phrase.text == called or len(phrase.text.split()) <= longest)
        and not set(phrase.also) - {"layer", "method"}
    ]

    def plain(phrase: Phrase) -> tuple[bool, float]:
        words = phrase.text.split()
        return phrase.text == called, sum(weights.get(word, 0.0) for word in words) / len(words)

    return sorted(ways, key=plain, reverse=True)[:most]


def weights(grammar: Grammar) -> Mapping[str, float]:
    """What each word is worth: more when many short phrases hold it, twice when it is confused."""
    named = ("zone", "condition", "probe", "side")
    short = (
        phrase.text.split()
        for phrase in grammar.vocabulary.phrases
        if phrase.slot in named and not phrase.misheard and len(phrase.text.split()) <= 2
    )
    held = Counter(word for words in short for word in words)
    confused = {word for said in grammar.confusions for word in said.split()}
    return {word: math.log1p(n) * (2 if word in confused else 1) for word, n in held.items()}


def _slots(phrase: Phrase) -> dict[str, str]:
    return {phrase.slot: phrase.value, **phrase.also}
