"""Rhythms as characters."""

from __future__ import annotations

import pytest

from voicelog.announce.drawing import drawing
from voicelog.announce.tones import PATTERNS
from voicelog.domain.signal import MEANINGS, Signal


@pytest.mark.parametrize("plain", [False, True])
def test_no_two_signals_are_drawn_alike(plain: bool) -> None:
    """Not even when only ASCII can be shown, nor when heights cannot be told apart."""
    drawn = [drawing(signal, plain=plain) for signal in Signal]
    flat = ["".join(" " if c == " " else "x" for c in line) for line in drawn]
    assert len(set(drawn)) == len(set(flat)) == len(Signal)


def test_plain_drawings_are_ascii() -> None:
    """For the oldest of terminals."""
    assert all(drawing(signal, plain=True).isascii() for signal in Signal)


def test_every_note_is_drawn_once_higher_and_longer_as_it_sounds() -> None:
    """Groups of one character each, as many as notes; a lost microphone falls in three steps."""
    for signal in Signal:
        groups = drawing(signal).split()
        assert len(groups) == len(PATTERNS[signal].notes)
        assert all(len(set(group)) == 1 for group in groups)
    first, second, third = drawing(Signal.MICROPHONE_LOST).split()
    assert first > second > third
    assert len(first) > len(drawing(Signal.CHANGED).split()[0]) > len(drawing(Signal.REMARK))


def test_a_drawing_fits_its_column() -> None:
    """With name and meaning on a line of 80 characters."""
    assert max(len(drawing(signal)) for signal in Signal) < 23
    assert max(map(len, MEANINGS.values())) <= 41
