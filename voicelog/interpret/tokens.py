"""Text to tokens: case, punctuation, written numbers and units, doubled-up spellings."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from voicelog.domain.heard import Hypothesis

LONGEST_TEXT = 2_000
"""Characters of one utterance that are read; 20 s of speech is under 500."""

_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_ENDS = frozenset(["front", "rear", "back", "mid", "middle"])
_SIDES = frozenset(["left", "right"])

_WORD = re.compile(
    r"\d+(?:,\d{3})+(?!\d)|\d+/\d+|\d*\.\d+|\d+|[^\W\d_]+(?:['’][^\W\d_]+)*|[%\"”″°]|[,;:.?!]",
    re.UNICODE,
)
_GLUED = {"%": "percent", '"': "inches", "”": "inches", "″": "inches", "°": "degrees"}
_STOPS = {",": ",", ";": ",", ":": ",", ".": ".", "!": ".", "?": "?"}


@dataclass(frozen=True, slots=True)
class Token:
    """One word as it is matched.

    Args:
        text: lower case, without punctuation.
        stop: the punctuation right after it: ``""``, ``","``, ``"."`` or ``"?"``.
        confidence: the ear's, 0 to 1; 1 where it gives none.
        heard: what the ear wrote, where the text is what that must have been.
    """

    text: str
    stop: str = ""
    confidence: float = 1.0
    heard: str = ""


def tokenise(hypothesis: Hypothesis) -> tuple[Token, ...]:
    """The tokens of a hypothesis, word confidences carried over where the ear gives words."""
    if not hypothesis.words:
        return swap_ends(_split(hypothesis.text[:LONGEST_TEXT], 1.0))
    tokens: list[Token] = []
    length = 0
    for word in hypothesis.words:
        length += len(word.text) + 1
        if length > LONGEST_TEXT:
            break
        confidence = 1.0 if word.confidence is None else word.confidence
        _extend(tokens, word.text, confidence)
    return swap_ends(tuple(tokens))


def swap_ends(tokens: tuple[Token, ...]) -> tuple[Token, ...]:
    """ "front left rail" as "left front rail", so that a zone's name stays in one piece."""
    swapped = list(tokens)
    for i in range(len(swapped) - 2):
        end, side, after = swapped[i : i + 3]
        together = not end.stop and not side.stop
        if together and end.text in _ENDS and side.text in _SIDES and after.text not in _SIDES:
            swapped[i], swapped[i + 1] = side, end
    return tuple(swapped)


def _split(text: str, confidence: float) -> tuple[Token, ...]:
    tokens: list[Token] = []
    _extend(tokens, text, confidence)
    return tuple(tokens)


def _extend(tokens: list[Token], text: str, confidence: float) -> None:
    for word, stop in _pieces(text):
        if word:
            tokens.append(Token(word, stop, confidence))
        elif tokens:
            last = tokens[-1]
            tokens[-1] = Token(last.text, _stronger(last.stop, stop), last.confidence)


@lru_cache(maxsize=4_000)
def _pieces(text: str) -> tuple[tuple[str, str], ...]:
    """Words, each with the stop right after it; a stop before any word stands by itself."""
    pieces: list[tuple[str, str]] = []
    for match in _WORD.finditer(_plain(text)):
        piece = match.group()
        if piece not in _STOPS:
            pieces.append((_GLUED.get(piece, piece.replace(",", "")), ""))
        elif pieces:
            word, stop = pieces[-1]
            pieces[-1] = word, _stronger(stop, _STOPS[piece])
        else:
            pieces.append(("", _STOPS[piece]))
    return tuple(pieces)


def _stronger(one: str, other: str) -> str:
    order = ("", ",", ".", "?")
    return max(one, other, key=order.index)


def _plain(text: str) -> str:
    """Compatibility forms folded, typographic marks made plain, ranges and hyphens opened."""
    for sign, written in _FRACTIONS.items():
        text = text.replace(sign, f" {written} ")
    text = unicodedata.normalize("NFKC", text).lower().replace("⁄", "/")
    text = text.replace("’", "'").replace("‘", "'").replace("—", ", ").replace("–", "-")
    text = re.sub(r"(?<=[a-z]{2}in)'(?![a-z])", "g", text)
    text = re.sub(r"(\d)\s*-\s*(?=\d+/\d)", r"\1 ", text)
    text = re.sub(r"(\d)\s*-\s*(?=\d)", r"\1 to ", text)
    text = re.sub(r"(?<=\d)''|(?<=\d)\"", " inches ", text)
    text = re.sub(r"(?<=[a-z])\.(?=[a-z])", "", text)
    text = re.sub(r"\.{2,}", ", ", text)
    return text.replace("-", " ")
