"""Words made fit for a voice: nothing in them can steer an engine, stall it, or be misread by it."""

from __future__ import annotations

import re
import unicodedata

LONGEST = 160
"""Characters spoken in one go: what an engine needs for a sentence, and little to wait for."""

MOST = 2_000
"""Characters spoken of one text, some two minutes; nothing that voicelog says is as long."""

REST = "and more, not read out"
"""Said in place of what is beyond."""

_VULGAR = re.compile(r"(?<=\d)(?=[¼-¾⅐-⅞])")
_OVER = re.compile(r"(\d+)\s*[/\u2044]\s*(\d+)")  # else the third of a sixteenth is a day in March
_MILLIMETRES = re.compile(r"(?<![^\W\d_])mm\b")
_DIGITS = re.compile(r"\d{7,}|\d+(?:,\d{3}){3,}")  # too long for a number: read one by one
_UNSPOKEN = re.compile(r"[^\w\s.,;:!?'%+°&-]|_")
_ENDS = (re.compile(r"(?<=[.!?;:])\s"), re.compile(r"(?<=,)\s"), re.compile(r"\s"))


def speakable(text: str) -> str:
    """The text without what no voice should meet.

    Control characters and marks of direction become blanks, and so does what an engine might take
    for markup (brackets, strokes, backslashes). Long runs of digits are spaced, so that they are
    read one by one; fractions are read as "3 over 16", "mm" as millimetres.

    Args:
        text: anything at all.

    Returns:
        One line; empty when there is nothing to say.
    """
    text = unicodedata.normalize("NFKC", _VULGAR.sub(" ", text[: 2 * MOST]))
    text = "".join(" " if unicodedata.category(c)[0] in "CZ" else c for c in text)
    text = _OVER.sub(r"\1 over \2", text)
    text = _UNSPOKEN.sub(" ", _MILLIMETRES.sub(" millimetres", text))
    text = _DIGITS.sub(lambda run: " ".join(run[0].replace(",", "")), text)
    return " ".join(text.split()) if any(c.isalnum() for c in text) else ""


def pieces(text: str) -> tuple[str, ...]:
    """A text in pieces short enough to be spoken one after the other.

    Args:
        text: as :func:`speakable` gave it.

    Returns:
        At most :data:`LONGEST` characters each, cut after sentences, else after commas, else
        between words, else anywhere; :data:`REST` stands for what is beyond :data:`MOST`.
    """
    if len(text) > MOST:
        return (*pieces(text[:MOST].rsplit(" ", 1)[0]), REST)
    found = list[str]()
    while len(text) > LONGEST:
        at = _cut(text)
        found.append(text[:at].strip())
        text = text[at:].strip()
    return tuple(piece for piece in (*found, text) if piece)


def _cut(text: str) -> int:
    """The last good place to cut within the first :data:`LONGEST` characters."""
    for ends in _ENDS:
        places = [found.end() for found in ends.finditer(text, 0, LONGEST)]
        if places:
            return places[-1]
    return LONGEST
