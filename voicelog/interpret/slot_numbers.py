"""Numbers as a person types them into a field: ``3/16 in``, ``4.8 mm``, ``1 1/2"``, ``33 %``."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence

from voicelog.domain.heard import Hypothesis
from voicelog.domain.reading import Speech, Vocabulary
from voicelog.domain.slot import SLOTS, plausible
from voicelog.errors import UsageFault
from voicelog.interpret.localise import Numerals
from voicelog.interpret.measures import Measure, measure_at
from voicelog.interpret.numbers import number_at, ordinal_at
from voicelog.interpret.slot_words import shown
from voicelog.interpret.tokens import tokenise
from voicelog.interpret.units import INCH_MM, THOU_MM
from voicelog.tongue import Worded, either, to_word, worded

DECIMALS = 4
"""Decimals kept: a tenth of a micrometre."""
_EXAMPLES = {
    "length": to_word("Give a number with its unit: 4.8 mm, 3/16 in, 80 thou"),
    "percent": to_word("Give a number: 33, or 33 %"),
    "count": to_word("Give a whole number: 3"),
}
_NO_NUMBER = {
    "length": to_word("{slot}: {text} is not one length"),
    "percent": to_word("{slot}: {text} is not one percentage"),
    "count": to_word("{slot}: {text} is not one whole number"),
}
_OFFERED = (("mm", 1.0), ("in", float(INCH_MM)), ("thou", float(THOU_MM)), ("cm", 10.0))
"""Units that a number may have been meant in, likeliest first."""
_THICKNESSES = ("thickness_mm", "nominal_mm")
_SIGN = re.compile(r"(?:[-−–]|minus\b)\s*", re.IGNORECASE)
_NUMBERED = re.compile(r"^(?:#|(?:no\.?|number)(?=\s*\d)|number\s)\s*", re.IGNORECASE)
_ENDING = re.compile(r"(?<=\d)(?:st|nd|rd|th)\b", re.IGNORECASE)
_IN_OTHER_WORDS = re.compile(r"\s*\([^()]*\)$")
"""What a field shows behind a length: the same in inches."""
_STRANGE = re.compile(r"[^\w\s%\"'’”.,/⁄~≈-]|^[^\w.~≈]|^\.(?!\d)|(?<!\w)[-'’]|[-'’](?!\w)")
"""Signs that no number has, and hyphens and apostrophes that join nothing."""
_VULGAR = re.compile("([¼-¾⅐-⅞])")
_FEET = re.compile(r"(?<=\d)\s*['’]")
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_PLAIN_COMMA = re.compile(r"(?<=\d),(?=\d{1,2}(?!\d))|(?<=\b0),(?=\d)")
"""A comma that cannot be between thousands: "4,8", "0,125"."""


def number_value(slot: str, text: str, vocabulary: Vocabulary, speech: Speech) -> int | float:
    """The number in the slot's own unit.

    A bare number of a length is in the speaker's unit. A fraction in eighths to sixty-fourths is of
    an inch as everywhere else; any other bare fraction in millimetres is refused, since "1/2" typed
    for half an inch would make a hole of half a millimetre out of it (ours).

    Args:
        slot: one of lengths, percents or counts.
        text: what was typed.
        vocabulary: the words for numbers and units of another language.
        speech: what "mil" and a bare number stand for.

    Returns:
        An int for a count; else a float, mm or percent, rounded to four decimals.

    Raises:
        UsageFault: no such number, or it is outside the slot's plausible bounds.
    """
    written = _IN_OTHER_WORDS.sub("", text.strip())
    unsigned = _SIGN.sub("", written, count=1) if _SIGN.match(written) else written
    sign = 1.0 if unsigned == written else -1.0
    words = _words(slot, unsigned, vocabulary)
    kind = SLOTS[slot].kind
    value = sign * (_length if kind == "length" else _plain)(slot, text, words, speech)
    value = round(value, DECIMALS) + 0.0
    if not plausible(slot, value):
        raise _outside(slot, value, _measured(words, speech) if sign > 0 else None, speech)
    return int(value) if kind == "count" else value


def _words(slot: str, text: str, vocabulary: Vocabulary) -> list[str]:
    """Its words with units spelled out; none where a sign in it means something unknown."""
    text = _ENDING.sub("", _NUMBERED.sub("", text)) if slot == "ordinal" else text
    tokens = Numerals(vocabulary).localised(tokenise(Hypothesis(_written_out(text, vocabulary))))
    if any(token.stop for token in tokens[:-1]):
        return []
    return _with_inches([token.text for token in tokens])


def _written_out(text: str, vocabulary: Vocabulary) -> str:
    """Marks for feet and inches, fractions in one character and decimal commas made plain.

    Empty where a sign is none of these: what is dropped silently could have changed the number.
    """
    raised = any(c.isdigit() and not c.isdecimal() for c in text)
    text = text.replace("″", '"').replace("′", "'").replace("“", '"')
    text = unicodedata.normalize("NFKC", _VULGAR.sub(r" \1 ", text)).strip()
    text = _FEET.sub(" feet ", re.sub("['’]{2}", '"', text))
    if raised or _STRANGE.search(text):
        return ""
    comma = any(p.slot == "point" and p.value == "," for p in vocabulary.numerals)
    return (_COMMA if comma else _PLAIN_COMMA).sub(".", text)


def _with_inches(words: list[str]) -> list[str]:
    """ "3/16 in": after a number and nothing behind it, the word can only be the unit."""
    return [*words[:-1], "inches"] if len(words) > 1 and words[-1] in ("in", "ins") else words


def _measured(words: Sequence[str], speech: Speech) -> Measure | None:
    """The one measure that all the words are; None where they are more, or none."""
    measure = measure_at(words, 0, speech)
    if measure is None or measure.end != len(words):
        return None
    return None if measure.low is not None or measure.by is not None else measure


def _length(slot: str, text: str, words: Sequence[str], speech: Speech) -> float:
    """Millimetres."""
    measure = _measured(words, speech)
    if measure is None or measure.quantity in ("percent", "area"):
        raise _no_number(slot, text)
    if measure.quantity == "gauge" and slot not in _THICKNESSES:
        raise UsageFault(
            worded("{slot}: {text} is a thickness", slot=slot, text=shown(text)),
            worded(_EXAMPLES["length"]),
        )
    if measure.quantity != "number":
        return measure.value
    if measure.fraction and speech.unit_mm == 1:
        raise UsageFault(
            worded("{slot}: {text} needs its unit", slot=slot, text=shown(text)),
            _did_you_mean(slot, measure, 0.0),
        )
    return measure.value * _bare_mm(measure, speech)


def _bare_mm(measure: Measure, speech: Speech) -> float:
    """The unit of a bare number; under one, to a speaker of thousandths, it is an inch."""
    if speech.unit_mm < 1 and measure.value < 1:
        return speech.unit_mm * 1000
    return speech.unit_mm


def _plain(slot: str, text: str, words: Sequence[str], speech: Speech) -> float:
    """A count or a percentage; a third is a share where percents are asked for."""
    number = number_at(words, 0)
    if slot == "ordinal" and (number is None or number.end != len(words)):
        number = ordinal_at(words, 0)
    percent = SLOTS[slot].kind == "percent"
    if number is not None and number.end == len(words):
        share = percent and number.fraction and number.value <= 1
        if percent or number.value.denominator == 1:
            return float(100 * number.value if share else number.value)
    measure = _measured(words, speech)
    if percent and measure is not None and measure.quantity in ("percent", "area"):
        return measure.value
    raise _no_number(slot, text)


def _no_number(slot: str, text: str) -> UsageFault:
    kind = SLOTS[slot].kind
    return UsageFault(
        worded(_NO_NUMBER[kind], slot=slot, text=shown(text)), worded(_EXAMPLES[kind])
    )


def _outside(slot: str, value: float, measure: Measure | None, speech: Speech) -> UsageFault:
    """The fault of a number out of the ordinary; in another unit it may be none."""
    spec = SLOTS[slot]
    unit = {"length": " mm", "percent": " %"}.get(spec.kind, "")
    told = worded(
        "{slot}: {value}{unit} is outside {low} to {high}{unit}",
        slot=slot,
        value=f"{value:.6g}",
        low=f"{spec.low:g}",
        high=f"{spec.high:g}",
        unit=unit,
    )
    if spec.kind != "length" or measure is None or measure.unit in ("coin", "gauge"):
        return UsageFault(told, worded("Check the number"))
    said_mm = measure.unit_mm or _bare_mm(measure, speech)
    return UsageFault(told, _did_you_mean(slot, measure, said_mm))


def _did_you_mean(slot: str, measure: Measure, said_mm: float) -> Worded:
    """The likeliest units in which that number would do, as a question."""
    offers = [offer for mm, offer in _offers(slot, measure) if abs(mm - said_mm) > 1e-9]
    likely = offers[:1] if said_mm else offers[:2]
    if not likely:
        return worded("Check the number and its unit")
    return worded("Did you mean {likely}?", likely=either(likely))


def _offers(slot: str, measure: Measure) -> Iterator[tuple[float, str]]:
    number = float(measure.number)
    for unit, mm in _OFFERED:
        if plausible(slot, round(number * mm, DECIMALS)):
            same = "" if unit == "mm" else f" ({number * mm:.3g} mm)"
            yield mm, f"{number:.6g} {unit}{same}"
