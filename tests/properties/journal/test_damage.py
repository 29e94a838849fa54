"""Damage shows: every changed byte, and every line lost, repeated or moved, but for the last line.

The hash of a line lies in the line after it, so nothing vouches for the last one: a change there is
found only if it leaves no fact behind, and a log cut after a whole line reads as a shorter log.
"""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from voicelog.domain.fact import Fact
from voicelog.errors import LogFault
from voicelog.journal.lines import NewerLog
from voicelog.journal.reading import Walk, read_log, verify

if TYPE_CHECKING:
    from tests.properties.journal.conftest import Written

MASK = st.integers(1, 255)
SHARE = st.floats(0, 1, exclude_max=True)
LINE = st.integers(0, 5)


def _flipped(text: bytes, place: int, mask: int) -> bytes:
    return text[:place] + bytes([text[place] ^ mask]) + text[place + 1 :]


def _assert_damaged(written: Written, text: bytes) -> None:
    written.put(text)
    with pytest.raises(LogFault, match=r"^Line \d+ "):
        read_log(written.folder)
    try:
        report = verify(written.folder)
    except NewerLog:  # it was the version that was changed
        return
    assert not report.ok


@given(share=SHARE, mask=MASK)
@settings(max_examples=400, deadline=None)
def test_a_changed_byte_before_the_last_line_is_found(
    written: Written, share: float, mask: int
) -> None:
    """Any byte, newlines included, changed into any other."""
    place = int(share * written.last)
    _assert_damaged(written, _flipped(written.text, place, mask))


@given(share=SHARE, mask=MASK)
@example(share=0.999999, mask=1)
@settings(max_examples=300, deadline=None)
def test_a_changed_byte_in_the_last_line_touches_no_other(
    written: Written, share: float, mask: int
) -> None:
    """It is found, or leaves a torn line, or changes that one fact; the facts before it stand."""
    place = written.last + int(share * (len(written.text) - written.last))
    written.put(_flipped(written.text, place, mask))
    facts: list[Fact] = []
    walk = Walk(written.folder)
    with suppress(LogFault):
        facts.extend(walk)
        assert bool(walk.torn) == (len(facts) == 5)
    assert tuple(facts[:5]) == written.facts[:5]


@pytest.mark.parametrize("mask", [1, 0x20, 0x80])
def test_the_newline_of_the_last_line(written: Written, mask: int) -> None:
    """Changed into anything else, it is found: the line was acknowledged, and is none that was torn."""
    _assert_damaged(written, _flipped(written.text, len(written.text) - 1, mask))


def test_a_zero_behind_the_last_line(written: Written) -> None:
    """As a power cut leaves it where the line end was not written yet: the line is a torn one."""
    written.put(written.text[:-1] + b"\x00")
    log = read_log(written.folder)
    assert (len(log.facts), bool(log.torn)) == (5, True)
    assert verify(written.folder).notices != ()


@given(lost=LINE)
@settings(max_examples=30, deadline=None)
def test_a_lost_line_is_found(written: Written, lost: int) -> None:
    """Any but the last."""
    assume(lost < 5)
    lines = written.lines
    _assert_damaged(written, b"".join(lines[:lost] + lines[lost + 1 :]))


@given(line=LINE, at=st.integers(0, 6))
@settings(max_examples=60, deadline=None)
def test_a_repeated_line_is_found(written: Written, line: int, at: int) -> None:
    """Any line, put in anywhere, at the end too."""
    lines = list(written.lines)
    lines.insert(at, lines[line])
    _assert_damaged(written, b"".join(lines))


@given(order=st.permutations(range(6)))
@settings(max_examples=100, deadline=None)
def test_another_order_is_found(written: Written, order: list[int]) -> None:
    """Any order but the one they were written in."""
    assume(order != list(range(6)))
    _assert_damaged(written, b"".join(written.lines[n] for n in order))


@given(line=LINE, ending=st.sampled_from([b"\r\n", b" \n", b"\n\n", b"\n\r", b""]))
@settings(max_examples=60, deadline=None)
def test_another_line_ending_is_found(written: Written, line: int, ending: bytes) -> None:
    """What editors and transfers in text mode do to a file."""
    assume(line < 5)
    lines = list(written.lines)
    lines[line] = lines[line].removesuffix(b"\n") + ending
    _assert_damaged(written, b"".join(lines))


@given(st.binary(max_size=300))
@settings(max_examples=200, deadline=None)
def test_any_bytes_are_a_fault_and_never_a_crash(written: Written, noise: bytes) -> None:
    """Instead of a journal, and after one."""
    written.put(noise)
    with pytest.raises(LogFault):
        read_log(written.folder)
    written.put(written.text + noise + b"\n")
    with pytest.raises(LogFault, match="Line 7"):
        read_log(written.folder)
    assert not verify(written.folder).ok
