"""A clip drawn with characters."""

from __future__ import annotations

import math
import struct

import pytest

from voicelog.domain.heard import Word
from voicelog.review.waveform import (
    bars,
    column_of,
    drawing,
    labels,
    peaks,
    ruler,
    word_at,
    word_columns,
)

WORDS = (
    Word("left", None, 0.5, 0.8),
    Word("outrigger,", None, 0.8, 1.6),
    Word("hole", None, 2.0, 2.4),
)


def _pcm(*samples: int) -> bytes:
    return struct.pack(f"<{len(samples)}h", *samples)


def test_a_column_shows_its_loudest_moment() -> None:
    """Whichever way it swings; full scale is 1."""
    assert peaks(_pcm(0, 16_384, -8_192, 0, 0, -32_768), 3) == (0.5, 0.25, 1.0)


def test_no_sample_is_left_out_however_many_columns_there_are() -> None:
    """A single click is seen in exactly one column, the one it lies in."""
    for columns in (1, 7, 80, 999):
        for at in (0, 1, 499, 998, 999):
            samples = [0] * 1_000
            samples[at] = 32_767
            loud = [n for n, level in enumerate(peaks(_pcm(*samples), columns)) if level]
            assert loud == [min(n for n in range(columns) if (n + 1) * 1_000 // columns > at)]


@pytest.mark.parametrize("pcm", [b"", b"\x01"])
def test_no_sound_is_flat(pcm: bytes) -> None:
    """As long as asked for, without a fault."""
    assert peaks(pcm, 4) == (0.0,) * 4
    assert bars(pcm, 4, 2) == ("    ", "    ")


def test_fewer_samples_than_columns_are_shown_all_the_same() -> None:
    """Some of them twice."""
    assert peaks(_pcm(16_384, 8_192), 4) == (0.5, 0.5, 0.25, 0.25)


def test_no_room_is_no_fault() -> None:
    """A terminal may be as narrow as it likes."""
    assert peaks(_pcm(1, 2), 0) == ()
    assert bars(_pcm(1, 2), 0, 2) == ("", "")
    assert drawing(_pcm(1, 2), WORDS, 1.0, 0, 1).words == ("", "")
    assert ruler(WORDS, 3.0, 0) == ""
    assert bars(_pcm(1, 2), 3, 0) == ()


def test_bars_stand_on_the_last_row_and_the_loudest_reaches_the_top() -> None:
    """A quarter, a half, all of it, and silence."""
    pcm = _pcm(2_000, 4_000, 8_000, 0)
    assert bars(pcm, 4, 2) == ("  █ ", "▄██ ")
    assert bars(pcm, 4, 1) == ("▂▄█ ",)
    assert bars(pcm, 4, 2, plain=True) == ("  | ", ":|| ")


def test_silence_does_not_look_like_speech() -> None:
    """Room tone stays a line on the ground; yet any sound is at least that."""
    hum = _pcm(*(round(20 * math.sin(n)) for n in range(800)))
    assert bars(hum, 8, 3) == (" " * 8, " " * 8, "▁" * 8)


def test_words_begin_in_the_columns_of_their_times() -> None:
    """A word without times has none."""
    assert word_columns((*WORDS, Word("untold")), 3.0, 30) == (5, 8, 20, None)


def test_moments_outside_the_clip_are_at_its_ends() -> None:
    """Word times are estimates; a cursor may be a little late."""
    assert [column_of(at_s, 2.0, 10) for at_s in (-1.0, 0.0, 1.0, 1.99, 2.0, 9.0)] == [
        0, 0, 5, 9, 9, 9,
    ]  # fmt: skip
    assert column_of(1.0, 0.0, 10) == 0


def test_the_ruler_shows_where_words_begin_and_end() -> None:
    """Blank where nothing is said."""
    assert ruler(WORDS, 3.0, 30) == "     ┬──┬───────    ┬───      "
    assert ruler(WORDS, 3.0, 30, plain=True) == "     |--|-------    |---      "


def test_two_words_in_one_column_are_one_mark() -> None:
    """There are no more columns than there are."""
    assert ruler(WORDS, 3.0, 3) == "┬ ┬"


def test_words_stand_where_they_begin_and_never_touch() -> None:
    """One that has no room beside the last goes into the second row, and so on in turns."""
    words = [Word(text, None, at_s, at_s + 0.2) for text, at_s in
             (("left", 0.0), ("front", 0.4), ("rail", 0.5), ("is", 1.0), ("soft", 1.1))]  # fmt: skip
    assert labels(words, 2.0, 20) == (
        "left rail is        ",
        "    front  soft     ",
    )


def test_a_word_without_room_is_left_out() -> None:
    """Three within a column, and one over the edge."""
    words = [Word(text, None, 0.1, 0.2) for text in ("one", "two", "three")]
    assert labels([*words, Word("edge", None, 0.9, 1.0)], 1.0, 10) == (" one      ", " two      ")


def test_hostile_words_are_shown_inert() -> None:
    """A log from elsewhere may hold anything."""
    assert labels([Word("a\x1b[2J", None, 0.0, 0.5)], 1.0, 10)[0] == "a?[2J     "


@pytest.mark.parametrize("columns", [1, 20, 80, 133])
def test_all_lines_are_as_wide_as_asked_for(columns: int) -> None:
    """A screen puts them one under the other."""
    drawn = drawing(_pcm(*range(0, 30_000, 7)), WORDS, 3.0, columns, 4)
    assert {len(line) for line in (*drawn.bars, drawn.ruler, *drawn.words)} == {columns}
    assert (len(drawn.bars), len(drawn.words)) == (4, 2)


@pytest.mark.parametrize(
    ("at_s", "which"), [(0.0, None), (0.5, 0), (0.79, 0), (0.8, 1), (1.8, 1), (2.9, 2)]
)
def test_the_word_at_the_cursor_is_the_one_said_last(at_s: float, which: int | None) -> None:
    """In a pause it is the one before the pause."""
    assert word_at(WORDS, at_s) == which
