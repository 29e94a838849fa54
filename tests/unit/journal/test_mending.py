"""A turned bit is found by the hash of the line that was there, and by nothing else."""

from __future__ import annotations

import pytest

from voicelog.journal import mending
from voicelog.journal.lines import digest
from voicelog.journal.mending import Mender

LINE = b'{"seq":2,"size_mm":12.5}'


@pytest.mark.parametrize("place", range(len(LINE)))
def test_any_bit_of_any_byte(place: int) -> None:
    """Whichever turned over, the line comes back as it was."""
    mender = Mender({digest(LINE)})
    for bit in range(8):
        turned = LINE[:place] + bytes((LINE[place] ^ 1 << bit,)) + LINE[place + 1 :]
        assert mender.mended(turned) == LINE


def test_more_than_one_bit_is_not_guessed() -> None:
    """Nor is anything done where no line is missing, or for what is far too long."""
    damaged = b"X" + LINE[1:-1] + b"X"
    assert Mender({digest(LINE)}).mended(damaged) is None
    assert Mender(set()).mended(LINE[:-1] + b"|") is None
    assert Mender({digest(LINE)}).mended(bytes(64 * 1024)) is None


def test_the_longest_line_that_is_tried() -> None:
    """32 KiB can be put right with the effort for one log; a byte more is too long."""
    for more, tried in ((0, True), (1, False)):
        line = b"{" + b"x" * (32 * 1024 - 2 + more) + b"}"
        mended = Mender({digest(line)}).mended(b"z" + line[1:])
        assert mended == (line if tried else None)


def test_its_effort_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    """A journal full of damage takes some seconds, not hours: half the bytes of a line are hashed for
    each of its bits, and what one line took is gone for the next.
    """
    one, turned = len(LINE) * len(LINE) * 8 // 2, LINE[:-1] + b"|"
    monkeypatch.setattr(mending, "_EFFORT", one - 1)
    assert Mender({digest(LINE)}).mended(turned) is None
    monkeypatch.setattr(mending, "_EFFORT", 2 * one)
    mender = Mender({digest(LINE)})
    assert [mender.mended(turned) for _ in range(3)] == [LINE, LINE, None]


def test_a_byte_that_became_a_line_feed() -> None:
    """The two pieces are one line again."""
    line = b'{"text":"left Jail"}'  # J is a line feed but for one bit
    before, after = line.split(b"J")
    assert Mender({digest(line)}).joined(before, after) == line
    assert Mender({digest(LINE)}).joined(before, after) is None
