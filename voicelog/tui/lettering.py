"""Very large type: words drawn with block characters, as large as a box allows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import zip_longest

from voicelog.domain.inert import inert

LONGEST = 160
"""Characters of a text that are looked at; nothing longer can be read from afar anyway."""


@dataclass(frozen=True, slots=True)
class Face:
    """A FIGlet font and how it is drawn.

    Args:
        font: its name.
        rows: of its letters, from the top; what lies below is empty.
        scale: columns and rows for each of the font's own.
        blank: what the font puts where nothing is drawn.
        gap: columns between words.
    """

    font: str
    rows: int
    scale: int = 1
    blank: str = " "
    gap: int = 3


FACES = (
    Face("ansi_regular", 5, scale=2, gap=4),
    Face("ansi_regular", 5, gap=4),
    Face("pagga", 3, blank="░"),
    Face("future", 3, gap=2),
)
"""From the largest down. Block letters first: they can be read from farther away than lines."""


@lru_cache(maxsize=128)
def lettered(text: str, width: int, height: int) -> str:
    """The text in the largest letters that fit the box; in capitals on one line where none do.

    Args:
        text: words; those of a text that does not fit on one line go on the next.
        width: columns.
        height: rows.

    Returns:
        Lines; those of one row of words are equally long, so that they can be centred.
    """
    words = inert(text, LONGEST).upper().split()
    for face in FACES:
        lines = _drawn(face, words, width)
        if lines and len(lines) <= height:
            return "\n".join(lines)
    return " ".join(words)


def _drawn(face: Face, words: list[str], width: int) -> list[str]:
    """All words in lines of that width; none where a letter is missing or a word is too long."""
    blocks = [_block(face, word) for word in words]
    if any(not block or _width(block) > width for block in blocks):
        return []
    lines: list[str] = []
    for row in _rows(blocks, width, face.gap * face.scale):
        edge = _width(row)
        lines += [""] * bool(lines) + [f"{line:<{edge}}" for line in row]
    return lines


def _rows(blocks: list[tuple[str, ...]], width: int, gap: int) -> Iterator[list[str]]:
    """The words side by side, as many in a row as it holds."""
    row: list[str] = []
    for block in blocks:
        if row and _width(row) + gap + _width(block) > width:
            yield row
            row = []
        row = _beside(row, block, gap) if row else list(block)
    if row:
        yield row


def _beside(left: list[str], right: tuple[str, ...], gap: int) -> list[str]:
    edge = _width(left) + gap
    return [f"{a:<{edge}}{b}" for a, b in zip_longest(left, right, fillvalue="")]


def _width(lines: list[str] | tuple[str, ...]) -> int:
    return max(map(len, lines), default=0)


@lru_cache(maxsize=512)
def _block(face: Face, word: str) -> tuple[str, ...]:
    """One word, ready drawn; empty where the font lacks a letter."""
    from pyfiglet import Figlet  # fonts are read slowly; plain text needs none

    figlet = Figlet(font=face.font, width=10_000)
    if not all(_knows(figlet, face, letter) for letter in word):
        return ()
    drawn = str(figlet.renderText(word)).replace(face.blank, " ").split("\n")[: face.rows]
    edge = min(len(line) - len(line.lstrip()) for line in drawn if line.strip())
    return tuple(
        _wider(line[edge:].rstrip(), face.scale) for line in drawn for _ in range(face.scale)
    )


def _knows(figlet: object, face: Face, letter: str) -> bool:
    glyph = figlet.Font.chars.get(ord(letter), ())  # type: ignore[attr-defined]
    return any(line.replace(face.blank, " ").strip() for line in glyph)


def _wider(line: str, times: int) -> str:
    return "".join(letter * times for letter in line)
