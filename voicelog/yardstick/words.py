"""Word errors: said against heard, both written alike first.

Errors are those of jiwer over words. Said text may hold alternatives as NIST's scorer writes them,
``{ industry's / industry }``, with ``@`` for no word at all; the choice with the fewest errors counts.

Written alike means: lower case, no punctuation, hyphens and slashes are spaces, digits are spelled out
("3/16" as "three sixteenths", "1.5" as "one point five", without "and"), units are words
without their plural (nobody hears it in "mm"), and American and British spellings are one. "rust" for "rest" stays an error.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields
from importlib.util import find_spec
from itertools import product

from voicelog.errors import VoicelogError
from voicelog.tongue import worded

_NUMBER = re.compile(r"\d+\s*/\s*\d+|\d+\.\d+|\d+(?:st|nd|rd|th)\b|\d+")
_GROUPED = re.compile(r"(?<=\d),(?=\d{3}\b)")
_ALTERNATIVES = re.compile(r"\{([^}]*)\}")
_NO_WORD = "@"
_HALVES = {2: "half", 4: "quarter"}
_SIGNS = {
    "%": " percent ",
    "½": " 1/2 ",
    "¼": " 1/4 ",
    "¾": " 3/4 ",
    "’": "'",
    '"': " ",
    "&": " and ",
}
_SAME = {
    "mm": "millimeter", "millimeters": "millimeter", "millimetres": "millimeter",
    "millimetre": "millimeter", "cm": "centimeter", "centimeters": "centimeter",
    "centimetres": "centimeter", "centimetre": "centimeter", "metres": "meters", "metre": "meter",
    "cent": "percent", "ok": "okay", "grey": "gray", "colour": "color", "tyre": "tire",
    "tyres": "tires",
}  # fmt: skip


def require() -> None:
    """Ask for what counts words, before anybody waits for an ear.

    Raises:
        VoicelogError: the extra ``measure`` is not installed.
    """
    missing = [name for name in ("jiwer", "num2words") if find_spec(name) is None]
    if missing:
        raise VoicelogError(
            worded(
                "Counting words needs a part that is not installed ({missing})",
                missing=", ".join(missing),
            ),
            worded("Install it with: pip install 'voicelog[measure]'"),
        )


@dataclass(frozen=True, slots=True)
class Words:
    """Counts over words; add them up.

    Args:
        right: words heard as they were said.
        wrong: words heard as others.
        missing: words that were not heard.
        extra: words that nobody said.
    """

    right: int = 0
    wrong: int = 0
    missing: int = 0
    extra: int = 0

    def __add__(self, other: Words) -> Words:
        return Words(*(getattr(self, f.name) + getattr(other, f.name) for f in fields(self)))

    @property
    def said(self) -> int:
        """How many words were said."""
        return self.right + self.wrong + self.missing

    @property
    def errors(self) -> int:
        """Words wrong, missing and extra."""
        return self.wrong + self.missing + self.extra

    @property
    def rate(self) -> float:
        """Errors for each word said; it can be more than 1."""
        return self.errors / self.said if self.said else 0.0


def count(said: str, heard: str) -> Words:
    """Word errors of one utterance; alternatives in what was said are tried all.

    Args:
        said: in words parted by spaces, written as it is to be compared.
        heard: likewise.
    """
    return min((_count(way, heard) for way in ways(said)), key=lambda words: words.errors)


def ways(said: str) -> Iterator[str]:
    """Every way to say it that its alternatives allow."""
    parts = _ALTERNATIVES.split(said)
    choices = [part.split(" / ") if at % 2 else [part] for at, part in enumerate(parts)]
    for chosen in product(*choices):
        yield " ".join(word for part in chosen for word in part.split() if word != _NO_WORD)


def _count(said: str, heard: str) -> Words:
    import jiwer

    if not said.split():
        return Words(extra=len(heard.split()))
    found = jiwer.process_words(said, heard)
    return Words(found.hits, found.substitutions, found.deletions, found.insertions)


def plain(text: str) -> str:
    """A text written so that only different words differ."""
    for sign, meant in _SIGNS.items():
        text = text.replace(sign, meant)
    text = _GROUPED.sub("", text.lower())
    text = _NUMBER.sub(lambda found: f" {_spelt(found.group())} ", text)
    text = text.replace("hundred and ", "hundred ").replace("per cent", "percent")
    words = re.findall(r"[a-z]+(?:'[a-z]+)*", text)
    return " ".join(_SAME.get(word, word) for word in words)


def _spelt(number: str) -> str:
    """A number in digits as words."""
    if "/" in number:
        above, below = (int(part) for part in number.split("/"))
        return f"{_cardinal(above)} {_part(below)}{'' if above == 1 else 's'}"
    if number[-1].isalpha():
        return _ordinal(int(number[:-2])).replace(" and ", " ")
    return _cardinal(number)


def _cardinal(number: int | str) -> str:
    from num2words import num2words

    return str(num2words(number)).replace(" and ", " ").replace(",", "")


def _part(below: int) -> str:
    return _HALVES.get(below) or _ordinal(below)


def _ordinal(number: int) -> str:
    from num2words import num2words

    return str(num2words(number, to="ordinal"))
