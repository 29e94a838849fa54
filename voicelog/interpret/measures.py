"""Measures among words: amounts with their hedges, ranges and second dimensions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from voicelog.domain.reading import Speech
from voicelog.interpret.amounts import AMOUNT_OPENS, Amount, amount_at, in_unit_of
from voicelog.interpret.coins import COIN_OPENS
from voicelog.interpret.numerals import pull_apart, word_at


@dataclass(frozen=True, slots=True)
class Measure:
    """A measure found among words.

    Args:
        start: index of its first word, hedges included.
        end: index after its last word, hedges included.
        quantity: ``length``, ``percent``, ``area`` (a share of a surface), ``gauge`` or ``number``.
        value: mm for a length or gauge, percent for a percent or area, plain for a number.
        number: the number that goes with ``value``, in the unit said.
        unit_mm: millimetres in the unit said; None for a bare number, percent or gauge.
        approximate: said with a hedge.
        low: the smaller end of a range, whose larger is ``value``; same unit as ``value``.
        fraction: said with a denominator.
        unit: name of the unit said; empty for a bare number.
        by: the second dimension of "six by four inches"; same unit as ``value``.
    """

    start: int
    end: int
    quantity: str
    value: float
    number: Fraction
    unit_mm: float | None
    approximate: bool
    low: float | None = None
    fraction: bool = False
    unit: str = ""
    by: float | None = None


@dataclass(frozen=True, slots=True)
class _Found:
    """An amount with what surrounds it; ``end`` counts the whole of it."""

    amount: Amount
    end: int
    approximate: bool = False
    low: Fraction | None = None
    by: Fraction | None = None


_Phrases = Mapping[str, tuple[tuple[str, ...], ...]]


def _phrases(text: str) -> _Phrases:
    """Phrases divided by bars, by their first word, longest first."""
    phrases = sorted((tuple(phrase.split()) for phrase in text.split("|")), key=len, reverse=True)
    return {first: tuple(p for p in phrases if p[0] == first) for first, *_ in phrases}


_BEFORE = _phrases(
    "about|roughly|around|approximately|approx|maybe|perhaps|probably|possibly|say|nearly|almost"
    "|some|just about|just over|just under|just on|just shy of|a bit over|a bit under"
    "|a bit more than|a bit less than|a little over|a little under|a touch over|a touch under"
    "|a good|at least|up to|anything up to|more than|less than|no more than|not more than"
    "|close to|closer to|nearer|more like|near enough|something like|in the region of"
)
_AFTER = _phrases(
    "or so|ish|odd|or thereabouts|thereabouts|give or take|more or less|near enough|or more"
    "|or less|or something|or something like that"
)
_TOLERANCE = _phrases("give or take|plus or minus")
_BETWEEN = _phrases("between|anywhere between|somewhere between|anything between")
_FROM = _phrases("from|anywhere from|anything from")
_BY = ("by", "x")
_OPENS = frozenset((*_BEFORE, *_BETWEEN, *_FROM)) | AMOUNT_OPENS
"""Words a measure can begin with, figures aside: most words of an utterance begin none."""


def measure_at(tokens: Sequence[str], start: int, speech: Speech) -> Measure | None:
    """The longest measure that starts exactly at ``start``, or None.

    A hedge before the number belongs to it ("about two inches"), and so does one after it ("two
    inches or so"); a hedge without a number is no measure.
    """
    first = word_at(tokens, start)
    if first.isalpha() and first.removesuffix("ish") not in _OPENS:
        return None
    if first == "the" and word_at(tokens, start + 1) not in COIN_OPENS:
        return None  # "the size of a quarter" begins a measure, hardly anything else does
    words, ends = pull_apart(tokens, start)
    found = _find(words, speech.mil)
    end = None if found is None else ends[found.end - 1]
    return None if found is None or end is None else _measure(found, start, end)


def _measure(found: _Found, start: int, end: int) -> Measure:
    """The same among tokens, in floats."""
    amount = found.amount
    return Measure(
        start=start,
        end=end,
        quantity=amount.quantity,
        value=float(amount.total),
        number=amount.number,
        unit_mm=None if amount.unit_mm is None else float(amount.unit_mm),
        approximate=found.approximate,
        low=None if found.low is None else float(found.low),
        fraction=amount.fraction,
        unit=amount.unit,
        by=None if found.by is None else float(found.by),
    )


def _find(words: Sequence[str], mil: str) -> _Found | None:
    """Hedges, then a range, a pair of dimensions or one amount, then hedges."""
    at = _past_hedges(words, 0)
    opened = _opened(words, at, mil)
    found = opened or _closed(words, at, mil)
    if found is None:
        return None
    end, hedged = _past_trailing(words, found.end, mil)
    return replace(found, end=end, approximate=found.approximate or hedged or at > 0)


def _opened(words: Sequence[str], at: int, mil: str) -> _Found | None:
    """A range that says so first: "between ten and fifteen", "from ten to fifteen"."""
    for openers, joint in ((_BETWEEN, ("and", "to")), (_FROM, ("to",))):
        begin = at + _matched(words, at, openers)
        first_at = _past_hedges(words, begin)
        first = amount_at(words, first_at, mil=mil) if begin > at else None
        ranged = _range(words, first, joint, mil) if first is not None else None
        if ranged is not None:
            return replace(ranged, approximate=ranged.approximate or first_at > begin)
    return None


def _closed(words: Sequence[str], at: int, mil: str) -> _Found | None:
    """An amount, the larger end of a range, or the first of two dimensions."""
    first = amount_at(words, at, mil=mil)
    if first is None:
        return None
    joined = _range(words, first, ("to", "or"), mil) or _dimensions(words, first, mil)
    return joined or _Found(first, first.end, first.loose)


def _range(words: Sequence[str], first: Amount, joint: Sequence[str], mil: str) -> _Found | None:
    """Two ends: "ten to fifteen mil", "an inch or two"."""
    if word_at(words, first.end) not in joint:
        return None
    second_at = _past_hedges(words, first.end + 1)
    second = amount_at(words, second_at, mil=mil)
    pair = None if second is None else _alike(first, second)
    if second is None or pair is None or not _rises(first, second, pair):
        return None
    small, large = sorted(pair, key=lambda amount: amount.total)
    hedged = second_at > first.end + 1 or first.loose or second.loose
    return _Found(large, second.end, hedged, low=small.total)


def _dimensions(words: Sequence[str], first: Amount, mil: str) -> _Found | None:
    """Two dimensions, both in the unit said: "six by four inches", "six inches by four"."""
    if word_at(words, first.end) not in _BY:
        return None
    second = amount_at(words, first.end + 1, mil=mil)
    pair = None if second is None else _alike(first, second)
    if second is None or pair is None or pair[0].quantity not in ("length", "number"):
        return None
    return _Found(pair[0], second.end, first.loose or second.loose, by=pair[1].total)


def _alike(first: Amount, second: Amount) -> tuple[Amount, Amount] | None:
    """Both in units that can be compared; None when they measure different things."""
    if first.quantity == second.quantity:
        return first, second
    if first.quantity == "number":
        return in_unit_of(first, second), second
    return (first, in_unit_of(second, first)) if second.quantity == "number" else None


def _rises(first: Amount, second: Amount, pair: tuple[Amount, Amount]) -> bool:
    """A bare number must be the larger: "ten mil or one" is no range."""
    if "number" in (first.quantity, second.quantity) and first.number >= second.number:
        return False
    return pair[0].total != pair[1].total


def _matched(words: Sequence[str], at: int, phrases: _Phrases) -> int:
    """Length of the longest phrase that starts there; 0 when none does."""
    likely = phrases.get(word_at(words, at), ())
    return next((len(p) for p in likely if tuple(words[at : at + len(p)]) == p), 0)


def _past_hedges(words: Sequence[str], at: int) -> int:
    """Index after the hedges that start there: "probably about"."""
    while step := _matched(words, at, _BEFORE):
        at += step
    return at


def _past_trailing(words: Sequence[str], at: int, mil: str) -> tuple[int, bool]:
    """Index after a hedge that follows ("give or take a mil"), and whether there was one."""
    tolerance = _matched(words, at, _TOLERANCE)
    margin = amount_at(words, at + tolerance, mil=mil) if tolerance else None
    if margin is not None:
        return margin.end, True
    step = _matched(words, at, _AFTER)
    return at + step, step > 0
