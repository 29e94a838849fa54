"""A clip drawn with characters: how loud it is from left to right, and where its words lie.

Time runs evenly: column ``c`` of ``columns`` shows the clip from ``c / columns`` to
``(c + 1) / columns`` of its length. Bars, ruler, words and cursor share that one scale.
"""

from __future__ import annotations

import sys
from array import array
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from voicelog.domain.heard import Word
from voicelog.domain.inert import inert

BLOCKS = " ▁▂▃▄▅▆▇█"
"""A cell filled from below, in eighths."""

PLAIN_BLOCKS = " .:|"
"""The same for terminals that only know ASCII, in thirds."""

RULER, PLAIN_RULER = " ┬─", " |-"
"""No word, a word begins, a word goes on."""

QUIETEST = 0.02
"""The loudest moment of a clip reaches the top, unless it lies under this share of full scale:
silence must not look like speech."""

LABEL_ROWS = 2
"""A word that has no room beside the one before it goes into the next row."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """A clip as lines of equally many columns.

    Args:
        bars: the sound, top row first.
        ruler: where each word begins, and how long it lasts.
        words: rows of words, each beginning in its column; one without room is left out.
    """

    bars: tuple[str, ...]
    ruler: str
    words: tuple[str, ...]


def drawing(
    pcm: bytes,
    words: Sequence[Word],
    duration_s: float,
    columns: int,
    rows: int,
    *,
    plain: bool = False,
) -> Drawing:
    """Everything about a clip, to be put on the screen line by line.

    Args:
        pcm: signed 16-bit little-endian mono samples.
        words: what was heard in it; those without times are left out.
        duration_s: its length.
        columns: how wide.
        rows: how high the bars are.
        plain: with ASCII characters only; words stay as they are.
    """
    return Drawing(
        bars(pcm, columns, rows, plain=plain),
        ruler(words, duration_s, columns, plain=plain),
        labels(words, duration_s, columns),
    )


def peaks(pcm: bytes, columns: int) -> tuple[float, ...]:
    """How loud the loudest moment in each column is, 0 to 1 of full scale; shape (columns,).

    Args:
        pcm: signed 16-bit little-endian mono samples; half a sample at the end is left out.
        columns: how many; a clip with fewer samples than that shows some of them twice.
    """
    samples = array("h", pcm[: len(pcm) // 2 * 2])
    if sys.byteorder == "big":
        samples.byteswap()
    if not samples or columns < 1:
        return (0.0,) * columns
    edges = [column * len(samples) // columns for column in range(columns + 1)]
    parts = (samples[begin : max(end, begin + 1)] for begin, end in pairwise(edges))
    return tuple(max(max(part), -min(part)) / 32768.0 for part in parts)


def bars(pcm: bytes, columns: int, rows: int, *, plain: bool = False) -> tuple[str, ...]:
    """The clip as bars that stand on the last row.

    Returns:
        So many rows, top row first, of so many columns. Any sound at all is at least a line on
        the last row.
    """
    blocks = PLAIN_BLOCKS if plain else BLOCKS
    levels = peaks(pcm, columns)
    top = max(QUIETEST, *levels, 0.0)
    steps = len(blocks) - 1
    heights = [max(round(level / top * rows * steps), int(level > 0.0)) for level in levels]
    return tuple(
        "".join(blocks[min(max(height - row * steps, 0), steps)] for height in heights)
        for row in reversed(range(rows))
    )


def ruler(words: Sequence[Word], duration_s: float, columns: int, *, plain: bool = False) -> str:
    """One line that shows where words begin and how long they last."""
    nothing, begins, goes_on = tuple(PLAIN_RULER if plain else RULER)
    cells = [nothing] * columns
    starts = word_columns(words, duration_s, columns)
    for word, start in zip(words, starts, strict=True):
        if start is not None and word.end_s is not None:
            end = column_of(word.end_s, duration_s, columns)
            cells[start:end] = [goes_on] * (end - start)
    for start in starts:
        if start is not None:
            cells[start] = begins
    return "".join(cells)


def labels(words: Sequence[Word], duration_s: float, columns: int) -> tuple[str, ...]:
    """Rows of words, each in the first row that has room for it where it begins.

    Returns:
        :data:`LABEL_ROWS` rows of so many columns, control characters made harmless.
    """
    rows = [""] * LABEL_ROWS
    for word, start in zip(words, word_columns(words, duration_s, columns), strict=True):
        text = inert(word.text)
        if start is None or start + len(text) > columns:
            continue
        for nth, row in enumerate(rows):
            if not row or len(row) < start:  # a blank between two words
                rows[nth] = row.ljust(start) + text
                break
    return tuple(row.ljust(columns) for row in rows)


def word_columns(words: Sequence[Word], duration_s: float, columns: int) -> tuple[int | None, ...]:
    """The column in which each word begins; None for a word without times."""
    return tuple(
        None
        if word.start_s is None or columns < 1
        else column_of(word.start_s, duration_s, columns)
        for word in words
    )


def column_of(at_s: float, duration_s: float, columns: int) -> int:
    """The column that shows a moment of the clip; the first or the last for any outside it."""
    if duration_s <= 0.0:
        return 0
    return min(max(0, int(at_s * columns / duration_s)), max(0, columns - 1))


def word_at(words: Sequence[Word], at_s: float) -> int | None:
    """Which word is being said at a moment, or was said last; None before the first."""
    begun = [n for n, word in enumerate(words) if word.start_s is not None and word.start_s <= at_s]
    return begun[-1] if begun else None
