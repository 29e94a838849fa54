"""Units and sheet gauges: what their spoken names are worth in millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from voicelog.interpret.numerals import word_at

INCH_MM = Fraction(254, 10)
"""Exactly, as is the foot of 12 inches: NIST SP 811, appendix B.8."""
THOU_MM = INCH_MM / 1000
MIL = "mil"
"""A millimetre, or a thousandth of an inch: the speaker's setting decides."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as said.

    Args:
        name: a key of :data:`LENGTHS`, ``percent`` or ``gauge``.
        mm: millimetres in one of it; None where it is not a length.
        end: index after its last word.
    """

    name: str
    mm: Fraction | None
    end: int


LENGTHS: Mapping[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "micron": Fraction(1, 1000),
    "inch": INCH_MM,
    "thou": THOU_MM,
    "foot": 12 * INCH_MM,
}

_SPOKEN: Mapping[str, str] = {
    "mm": "mm mms mm's millimetre millimetres millimetre's millimeter millimeters millimeter's "
    "milimetre milimetres milimeter milimeters millimiter millimiters millimber millimbers "
    "millimbres millimetric milometers milometres",
    MIL: "mil mils mill mills",
    "cm": "cm cms cm's centimetre centimetres centimetre's centimeter centimeters centimeter's "
    "centermeter centermeters centremetre centremetres",
    "m": "m metre metres meter meters",
    "micron": "micron microns micrometre micrometres micrometer micrometers um µm",
    "inch": "inch inches inch's inche",
    "thou": "thou thous thow thousandth thousandths",
    "foot": "foot feet ft",
    "percent": "percent pct percents",
    "gauge": "gauge gage ga",
}
_WORDS: Mapping[str, str] = {
    word: name for name, words in _SPOKEN.items() for word in words.split()
}


def unit_words(*names: str) -> frozenset[str]:
    """Single words that these units are called by."""
    return frozenset(word for word, name in _WORDS.items() if name in names)


_PAIRS: Mapping[tuple[str, str], str] = {
    **{
        (first, second): name
        for name, firsts in (("mm", "milli millie milly mill"), ("cm", "centi center centre"))
        for first in firsts.split()
        for second in ("metre", "metres", "meter", "meters")
    },
    ("m", "m"): "mm",
    ("c", "m"): "cm",
    ("per", "cent"): "percent",
    ("per", "sent"): "percent",
}
_THOUSANDTHS = ("thousandth", "thousandths", "thousand", "thousands")
"""The last two are what "thousandths" is heard as; they count only before "of an inch"."""


def unit_at(tokens: Sequence[str], start: int, *, mil: str = "millimetre") -> Unit | None:
    """The unit whose name starts exactly at ``start``, or None; ``mil`` as in ``Speech``.

    "In" alone is never a unit: "two in the web" says nothing of inches.
    """
    for find in (_thousandths, _pair, _single):
        if (found := find(tokens, start)) is not None:
            name, end = found
            if name == MIL:
                name = "thou" if mil == "thou" else "mm"
            return Unit(name, LENGTHS.get(name), end)
    return None


def _single(tokens: Sequence[str], start: int) -> tuple[str, int] | None:
    name = _WORDS.get(word_at(tokens, start))
    if name == MIL and word_at(tokens, start + 1) == "scale":
        return None  # mill scale is a condition of the steel
    return None if name is None else (name, start + 1)


def _pair(tokens: Sequence[str], start: int) -> tuple[str, int] | None:
    name = _PAIRS.get((word_at(tokens, start), word_at(tokens, start + 1)))
    return None if name is None else (name, start + 2)


def _thousandths(tokens: Sequence[str], start: int) -> tuple[str, int] | None:
    """Thousandths of an inch, or of a millimetre (a micron)."""
    if word_at(tokens, start) not in _THOUSANDTHS or word_at(tokens, start + 1) != "of":
        return None
    at = start + 3 if word_at(tokens, start + 2) in ("a", "an") else start + 2
    whole = _pair(tokens, at) or _single(tokens, at)
    names = {"inch": "thou", "mm": "micron"}
    return (names[whole[0]], whole[1]) if whole and whole[0] in names else None


GAUGE_IN: Mapping[int, str] = {
    7: "0.1793",
    8: "0.1644",
    9: "0.1495",
    10: "0.1345",
    11: "0.1196",
    12: "0.1046",
    13: "0.0897",
    14: "0.0747",
    15: "0.0673",
    16: "0.0598",
    17: "0.0538",
    18: "0.0478",
    19: "0.0418",
    20: "0.0359",
    21: "0.0329",
    22: "0.0299",
    23: "0.0269",
    24: "0.0239",
}
"""Manufacturers' Standard Gauge for uncoated steel sheet, inches."""
GALVANISED_GAUGE_IN: Mapping[int, str] = {
    8: "0.1681",
    9: "0.1532",
    10: "0.1382",
    11: "0.1233",
    12: "0.1084",
    13: "0.0934",
    14: "0.0785",
    15: "0.0710",
    16: "0.0635",
    17: "0.0575",
    18: "0.0516",
    19: "0.0456",
    20: "0.0396",
    21: "0.0366",
    22: "0.0336",
    23: "0.0306",
    24: "0.0276",
}
"""Galvanized sheet gauge, zinc included, inches."""


def gauge_mm(gauge: int, *, galvanised: bool = False) -> Fraction | None:
    """Thickness of steel sheet of that gauge in mm; None outside the table (7 or 8 to 24)."""
    inches = (GALVANISED_GAUGE_IN if galvanised else GAUGE_IN).get(gauge)
    return None if inches is None else Fraction(inches) * INCH_MM
