"""The chain: what the next line must carry, and where lines end."""

from __future__ import annotations

import io
import tempfile
from dataclasses import replace
from pathlib import Path

import pytest

from voicelog.domain.fact import Fact
from voicelog.errors import InputFault, LogFault
from voicelog.journal import chain as chain_module
from voicelog.journal.chain import FIRST_PREV, Chain, Lines, open_journal
from voicelog.journal.lines import digest, encode

OPENED = Fact(1, "2026-03-14T09:00:00.000Z", 0.0, FIRST_PREV, "opened", {})
LINE = encode(OPENED)
SECOND = Fact(2, "2026-03-14T09:00:09.000Z", 9.0, digest(LINE), "gap", {})


def test_the_chain_grows_line_by_line() -> None:
    """Lines, bytes with the newline, number, hash and times all follow; it begins with nothing."""
    assert Chain() == Chain(0, 0, 0, "0" * 64, "", 0.0)
    Chain().check(OPENED)
    one = Chain().after(OPENED, LINE)
    assert one == Chain(1, len(LINE) + 1, 1, digest(LINE), OPENED.at, 0.0)
    one.check(SECOND)


@pytest.mark.parametrize(
    ("fact", "said"),
    [
        (replace(SECOND, seq=3), "Line 2 .*seq 3 where 2 was due"),
        (replace(SECOND, seq=1), "Line 2 .*seq 1 where 2 was due"),
        (replace(SECOND, prev=FIRST_PREV), "Line 2 .*the line before it"),
    ],
)
def test_a_line_that_does_not_follow_is_refused(fact: Fact, said: str) -> None:
    """By its number, or by the hash of the line before."""
    with pytest.raises(LogFault, match=said):
        Chain().after(OPENED, LINE).check(fact)


@pytest.mark.parametrize(
    ("seq", "said"),
    [
        (1, "it is repeated"),
        (3, "line 2 of the log is missing"),
        (6, "lines 2 to 5 of the log are missing"),
    ],
)
def test_how_many_lines_are_missing_is_told_by_their_numbers(seq: int, said: str) -> None:
    """The first and the last of them; none where a line comes again."""
    with pytest.raises(LogFault, match=f"where 2 was due; {said}"):
        Chain().after(OPENED, LINE).check(replace(SECOND, seq=seq))


def test_the_first_line_says_how_the_log_was_opened() -> None:
    """A journal that begins otherwise has lost its beginning."""
    with pytest.raises(LogFault, match=r"Line 1 .*how the log was opened"):
        Chain().check(replace(OPENED, type="utterance"))


def test_beyond_damage_the_chain_goes_on() -> None:
    """The line after a damaged one is judged by the damaged bytes as they are."""
    assert Chain().past(b"x") == Chain(1, 2, 1, digest(b"x"))


@pytest.mark.parametrize(
    ("text", "whole", "torn"),
    [
        (b"", [], b""),
        (b"a\nb\n", [b"a", b"b"], b""),
        (b"a\nb", [b"a"], b"b"),
        (b"a\r\n\n\x00", [b"a\r", b""], b"\x00"),
        (b"a\x0bb\x1cc\xc2\x85\n", [b"a\x0bb\x1cc\xc2\x85"], b""),
    ],
)
def test_only_a_line_feed_ends_a_line(text: bytes, whole: list[bytes], torn: bytes) -> None:
    """What follows the last one is torn."""
    lines = Lines(io.BytesIO(text))
    assert list(lines) == whole
    assert lines.torn == torn


@pytest.mark.parametrize("ending", [b"", b"\n"])
@pytest.mark.parametrize("size", [11, 20])
def test_an_endless_line_does_not_fill_the_memory(
    monkeypatch: pytest.MonkeyPatch, size: int, ending: bytes
) -> None:
    """It is refused as soon as it is longer than any line of a journal."""
    monkeypatch.setattr(chain_module, "LONGEST_LINE", 10)
    lines = Lines(io.BytesIO(b"0123456789\n" + b"x" * size + ending))
    with pytest.raises(LogFault, match=r"Line 2 .*too long"):
        list(lines)


def test_a_torn_line_may_be_as_long_as_a_line(monkeypatch: pytest.MonkeyPatch) -> None:
    """The crash may have come just before its line end."""
    monkeypatch.setattr(chain_module, "LONGEST_LINE", 10)
    lines = Lines(io.BytesIO(b"0123456789\n" + b"x" * 10))
    assert (list(lines), lines.torn) == ([b"0123456789"], b"x" * 10)


@pytest.mark.parametrize("name", ["missing", "folder"])
def test_a_folder_without_a_journal_is_no_log(tmp_path: Path, name: str) -> None:
    """Missing, or a folder of something else: what to give is told."""
    (tmp_path / "folder" / "journal.jsonl").mkdir(parents=True)
    with (
        pytest.raises(InputFault, match=r"no log at .*journal.jsonl"),
        open_journal(tmp_path / name),
    ):
        pass


def test_a_disk_that_fails_while_reading_is_told(tmp_path: Path) -> None:
    """As a fault of the input, with its reason."""
    (tmp_path / "journal.jsonl").touch()
    said = pytest.raises(InputFault, match=r"cannot be read .Input/output error")
    with said, open_journal(tmp_path):
        raise OSError(5, "Input/output error")


@pytest.mark.parametrize("end", [b"*", b"\r", b" "])
def test_a_line_whose_end_was_altered_is_not_torn(end: bytes) -> None:
    """It was acknowledged. Zeros, as a power cut leaves them, may stand where nothing was yet."""
    line = encode(Fact(1, "2026-03-14T09:05:30Z", 0.0, FIRST_PREV, "opened", {"said": '{"seq":1'}))
    lines = Lines(io.BytesIO(line + b"\n" + line + end))
    with pytest.raises(LogFault, match="Line 2 .*does not end as a line"):
        list(lines)
    for tail in (line, line[:40], line + b"\x00"):
        torn = Lines(io.BytesIO(line + b"\n" + tail))
        assert (list(torn), torn.torn) == ([line], tail)


def test_a_file_larger_than_any_journal_is_not_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """One of that size is; the fault tells the size in gibibytes."""
    with tempfile.TemporaryFile() as file:
        file.write(b"12345")
        file.flush()
        file.seek(0)
        monkeypatch.setattr(chain_module, "LONGEST_JOURNAL", 5)
        assert chain_module.all_of(file) == b"12345"
        monkeypatch.setattr(chain_module, "LONGEST_JOURNAL", 4)
        with pytest.raises(InputFault, match="larger than 0 GiB"):
            chain_module.all_of(file)
        monkeypatch.undo()
        file.truncate(2**30 + 1)  # and takes no room
        with pytest.raises(InputFault, match="larger than 1 GiB"):
            chain_module.all_of(file)


def test_no_journal_is_larger_than_a_gibibyte() -> None:
    """And no line longer than sixteen mebibytes: what a reader may have to hold."""
    assert (chain_module.LONGEST_JOURNAL, chain_module.LONGEST_LINE) == (2**30, 2**24)


@pytest.mark.parametrize("front", [b" ", b"\x00\x00", LINE[:40], LINE[:40] + b" "])
def test_behind_a_torn_line_no_other_one_begins(front: bytes) -> None:
    """Where one does, something became of what stood in front of it, were it a single byte."""
    lines = Lines(io.BytesIO(LINE + b"\n" + front + LINE[:20]))
    with pytest.raises(LogFault, match="Line 2 .*does not end as a line"):
        list(lines)
