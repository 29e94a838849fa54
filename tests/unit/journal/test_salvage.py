"""A damaged journal taken apart: what is read of it, what is left, and how that is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest

from voicelog.domain.fact import Fact
from voicelog.journal import mending
from voicelog.journal import salvage as salvage_module
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.lines import digest, encode
from voicelog.journal.pieces import Salvage
from voicelog.journal.salvage import CUT_FREE, ONE_BIT, RESPELT, salvaged

AT = "2026-03-14T09:05:30.250Z"


def chain_of(count: int) -> list[bytes]:
    """Lines written one after the other."""
    lines: list[bytes] = []
    prev = FIRST_PREV
    for seq in range(1, count + 1):
        kind = "opened" if seq == 1 else "gap"
        lines.append(encode(Fact(seq, AT, float(seq), prev, kind, {"why": "rust"})))
        prev = digest(lines[-1])
    return lines


LINES = chain_of(4)


def of(lines: Sequence[bytes]) -> Salvage:
    """What there is in a file of these lines."""
    return salvaged(b"".join(line + b"\n" for line in lines))


def found(salvage: Salvage) -> list[tuple[int, int, str]]:
    """Line of the file, own number and repair of what was read."""
    return sorted((line.number, line.seq, line.fix) for line in salvage.found)


def rests(salvage: Salvage) -> list[tuple[int, bytes, str]]:
    """Line of the file, bytes and reason of what was not."""
    return [(rest.number, rest.data, rest.why) for rest in salvage.rests]


def test_progress_is_told_in_bytes() -> None:
    """Up to all of them."""
    told: list[tuple[int, int]] = []
    text = b"\n".join(LINES)
    salvaged(text, lambda done, whole: told.append((done, whole)))
    assert len(told) == 4
    assert told[-1] == (len(text), len(text))


def test_lines_glued_together_are_parted() -> None:
    """A line feed was lost; both are read as they are."""
    salvage = of([LINES[0], LINES[1] + LINES[2], LINES[3]])
    assert found(salvage) == [(1, 1, ""), (2, 2, CUT_FREE), (2, 3, CUT_FREE), (3, 4, "")]
    assert rests(salvage) == []


def test_what_stands_in_front_of_glued_lines_is_kept() -> None:
    """Not where it is only what another program puts there; nor of one line alone."""
    salvage = of([b"noise" + LINES[0] + LINES[1]])
    assert [data for _, data, _ in rests(salvage)] == [b"noise"]
    assert rests(of([b"\xef\xbb\xbf" + LINES[0] + LINES[1]])) == []
    assert rests(of([b"noise" + LINES[0]])) == []


def test_of_glued_lines_only_the_piece_that_is_broken_is_left() -> None:
    """All of the line where it is alone."""
    broken = LINES[1].replace(b'"type"', b'"typ"')
    salvage = of([LINES[0] + broken, LINES[3]])
    assert found(salvage) == [(1, 1, CUT_FREE), (2, 4, "")]
    assert [(number, data) for number, data, _ in rests(salvage)] == [(1, broken)]
    alone = of([b"noise" + broken])
    assert [data for _, data, _ in rests(alone)] == [b"noise" + broken]


def test_a_line_that_became_two_is_one_again() -> None:
    """One of its bytes turned into a line feed by one bit; the line behind it names its hash."""
    lines = chain_of(1)
    lines.append(encode(Fact(2, AT, 2.0, digest(lines[0]), "gap", {"why": "a*b"})))
    lines.append(encode(Fact(3, AT, 3.0, digest(lines[1]), "gap", {"why": "rust"})))
    text = b"".join(line + b"\n" for line in lines).replace(b"a*b", b"a\nb")
    salvage = salvaged(text)
    told = sorted((seq, fix) for _, seq, fix in found(salvage))
    assert told == [(1, ""), (2, ONE_BIT), (3, "")]
    assert rests(salvage) == []


def test_a_bit_that_turned_over_is_turned_back() -> None:
    """And the broken line is not told of any more."""
    broken = LINES[1].replace(b"rust", b"rtst")
    salvage = of([LINES[0], broken, *LINES[2:]])
    assert (2, 2, ONE_BIT) in found(salvage)
    assert rests(salvage) == []


def test_a_bit_in_the_hash_of_the_line_before_is_turned_back_first() -> None:
    """Only then is it known what that line was, in which a bit had turned over, too."""
    second = LINES[1].replace(b"rust", b"rtst")
    prev = digest(LINES[1]).encode()
    turned = bytes((prev[0] ^ 1,)) + prev[1:]
    salvage = of([LINES[0], second, LINES[2].replace(prev, turned), LINES[3]])
    mended = [line.data for line in salvage.found if line.fix == ONE_BIT]
    assert sorted(mended) == sorted(LINES[1:3])


def test_bytes_that_are_named_and_are_no_line_are_left_as_they_stand() -> None:
    """Whoever wrote the line behind them named something else; a bit in it is not turned back."""
    noise = b"x" * 200
    behind = encode(Fact(3, AT, 3.0, digest(noise), "gap", {"why": "rust"}))
    salvage = of([LINES[0], noise[:-1] + b"y", behind])
    assert found(salvage) == [(1, 1, ""), (3, 3, "")]
    assert rests(salvage) == [(2, noise[:-1] + b"y", "it is not JSON")]


def test_a_piece_longer_than_any_line_is_not_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """One that is as long is."""
    monkeypatch.setattr(salvage_module, "LONGEST_LINE", len(LINES[0]))
    assert rests(of(LINES)) == []
    monkeypatch.setattr(salvage_module, "LONGEST_LINE", len(LINES[0]) - 1)
    assert rests(of(LINES)) == [(1, LINES[0], "it is too long")]


def test_a_line_that_nothing_names_stays_as_it_is_spelled() -> None:
    """Only a hash tells that this program had spelled it otherwise; the last line has none."""
    spaced = [line.replace(b'":', b'": ') for line in LINES]
    told = {line.seq: (line.data, line.fix) for line in of(spaced).found}
    assert told[3] == (LINES[2], RESPELT)
    assert told[4] == (spaced[3], "")


@pytest.mark.parametrize(
    ("raw", "why"),
    [
        (b"", "it is empty"),
        (b" \t\r", "it is empty"),
        (bytes(9), "it holds nothing but zero bytes, as a power cut leaves them"),
        (b"noise", "it is not JSON"),
        (b'{"seq":2,"v":99}', "its version is none that this program knows"),
    ],
)
def test_what_is_no_line_is_told_of(raw: bytes, why: str) -> None:
    """In a few words that follow its number."""
    assert rests(of([LINES[0], raw, LINES[1]])) == [(2, raw, why)]


def test_a_torn_end_was_never_acknowledged() -> None:
    """The last line alone, and only without its line feed."""
    text = LINES[0] + b"\n" + LINES[1][:30]
    told = rests(salvaged(text))
    assert told == [(2, LINES[1][:30], "it is torn after 30 bytes, and was never acknowledged")]
    assert salvaged(text).lines == 2


def test_an_empty_file_has_no_lines() -> None:
    """None at all: not even an empty one."""
    assert salvaged(b"") == Salvage()
    assert Salvage().lines == 0


@pytest.fixture
def tried(monkeypatch: pytest.MonkeyPatch) -> list[bytes]:
    """The pieces whose every bit is turned, in that order."""
    pieces: list[bytes] = []
    real = mending._flipped

    def noting(line: bytes) -> Iterator[tuple[bytes, str]]:
        pieces.append(line)
        return real(line)

    monkeypatch.setattr(mending, "_flipped", noting)
    return pieces


def test_when_all_lines_that_are_named_are_there_nothing_more_is_tried(tried: list[bytes]) -> None:
    """Each try takes as long as hashing half the line for every bit of it."""
    turned = LINES[1].replace(b"rust", b"rtst")
    salvage = of([b"n" * 200, LINES[0], turned, *LINES[2:]])
    assert (3, 2, ONE_BIT) in found(salvage)
    assert tried == [LINES[3], turned]


def test_a_line_that_one_put_right_names_is_not_tried(tried: list[bytes]) -> None:
    """It is as it was written, although another line is still looked for."""
    prev = digest(LINES[1]).encode()
    third = LINES[2].replace(prev, bytes((prev[0] ^ 1,)) + prev[1:])
    lost = encode(Fact(6, AT, 6.0, "e" * 64, "gap", {"why": "rust"}))
    of([*LINES[:2], third, LINES[3], lost])
    assert tried == [lost, LINES[3], third]


def test_a_file_that_begins_with_a_line_feed() -> None:
    """An empty line in front of the others, and no others are in it."""
    salvage = of([b"", *LINES])
    assert found(salvage) == [(2, 1, ""), (3, 2, ""), (4, 3, ""), (5, 4, "")]
    assert rests(salvage) == [(1, b"", "it is empty")]
