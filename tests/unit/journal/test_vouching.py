"""Which lines of a damaged journal belong to it, told from their numbers and hashes alone."""

from __future__ import annotations

import time
from collections.abc import Sequence

import pytest

from voicelog.domain.fact import Fact
from voicelog.journal import mending
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.lines import NewerLog, digest, encode
from voicelog.journal.salvage import CUT_FREE, salvaged
from voicelog.journal.vouching import ALTERED, Vouched, vouched

AT = "2026-03-14T09:05:30.250Z"


def chain_of(
    count: int, said: str = "rust", *, first: int = 1, prev: str = FIRST_PREV
) -> list[bytes]:
    """Lines written one after the other."""
    lines: list[bytes] = []
    for seq in range(first, first + count):
        kind = "opened" if seq == 1 else "gap"
        lines.append(encode(Fact(seq, AT, float(seq), prev, kind, {"why": f"{said} {seq}"})))
        prev = digest(lines[-1])
    return lines


LINES = chain_of(6)


def taken(*lines: bytes) -> Vouched:
    """What is taken of a file of these lines."""
    return vouched(salvaged(b"".join(line + b"\n" for line in lines)))


def altered(line: bytes) -> bytes:
    """The line with other words in it, as somebody might write them."""
    return line.replace(b"rust", b"dust!")


def test_a_whole_journal_is_vouched_for_but_its_last_line() -> None:
    """No line behind names that one."""
    result = taken(*LINES)
    assert (list(result.lines), result.on_trust, result.left) == ([1, 2, 3, 4, 5, 6], {6}, [])


def test_an_altered_line_is_left_out() -> None:
    """The line in front of it is still vouched for: it names its hash, whatever else it says."""
    result = taken(*LINES[:3], altered(LINES[3]), *LINES[4:])
    assert (sorted(result.lines), result.on_trust) == ([1, 2, 3, 5, 6], {6})
    assert [(rest.number, rest.data) for rest in result.left] == [(4, altered(LINES[3]))]


def test_in_front_of_a_gap_a_line_is_taken_on_trust() -> None:
    """Nothing contradicts it, as nothing contradicts the last one."""
    result = taken(*LINES[:2], *LINES[3:])
    assert (sorted(result.lines), result.on_trust) == ([1, 2, 4, 5, 6], {2, 6})


def test_a_line_alone_between_gaps_is_not() -> None:
    """It might be anybody's; at the end of the file it is the last."""
    result = taken(*LINES[:2], LINES[3], LINES[5])
    assert list(result.lines) == [1, 2, 6]
    assert [(rest.number, rest.why) for rest in result.left] == [(3, "nothing vouches for it")]


def test_an_altered_line_in_front_of_the_last_one() -> None:
    """The last one is taken, as ever; what it contradicts is kept beside."""
    result = taken(*LINES[:4], altered(LINES[4]), LINES[5])
    assert (sorted(result.lines), result.on_trust) == ([1, 2, 3, 4, 6], {6})
    assert [rest.data for rest in result.left] == [altered(LINES[4])]


def test_a_hash_with_a_few_wrong_digits_is_still_that_hash() -> None:
    """By chance two hashes are never alike; more than one bit of it had turned over."""
    last = LINES[5].replace(digest(LINES[4])[:4].encode(), b"zzzz".replace(b"z", b"0"))
    result = taken(*LINES[:5], last)
    assert (sorted(result.lines), result.on_trust) == ([1, 2, 3, 4, 5, 6], {6})


@pytest.mark.parametrize(("wrong", "known"), [(6, True), (7, False)])
def test_so_many_digits_of_a_hash_may_be_wrong_and_not_one_more(wrong: int, known: bool) -> None:
    """Beyond them it is another hash: the line in front is not the one that was written after."""
    named = digest(LINES[4])
    other = "".join("0" if digit != "0" else "1" for digit in named[:wrong]) + named[wrong:]
    result = taken(*LINES[:5], LINES[5].replace(named.encode(), other.encode()))
    assert (5 in result.lines, 6 in result.lines) == (known, True)


def test_a_chain_from_a_first_line_that_opens_nothing_is_not_the_log() -> None:
    """Nor is it where it is longer: another program may have counted from one."""
    counted: list[bytes] = []
    for seq in range(1, 10):
        prev = digest(counted[-1]) if counted else FIRST_PREV
        counted.append(encode(Fact(seq, AT, float(seq), prev, "gap", {"why": "counted"})))
    result = taken(*counted, *LINES)
    assert [result.lines[seq].data for seq in range(1, 7)] == LINES


def test_a_first_line_that_was_altered_is_known_as_such() -> None:
    """It is not among the lines, and still there to be asked; what is left of it says why."""
    result = taken(altered(LINES[0]), *LINES[1:])
    assert [(rest.number, rest.why) for rest in result.left] == [(1, ALTERED)]
    assert sorted(result.lines) == [2, 3, 4, 5, 6]
    assert result.opening is not None
    assert result.opening.data == altered(LINES[0])


@pytest.mark.parametrize("lost", [[], [2], [2, 3]])
def test_another_log_takes_no_number_that_is_taken(lost: Sequence[int]) -> None:
    """The chain from the line that opened this one comes first, then the longest."""
    foreign = chain_of(3, "other")
    own = [line for seq, line in enumerate(LINES, 1) if seq not in lost]
    result = taken(*foreign[1:], *own)
    assert all(line.data in LINES for line in result.lines.values() if line.seq not in lost)


def test_a_number_far_off_is_no_gap() -> None:
    """A single line may not make a thousand empty ones."""
    far = chain_of(1, first=5_000, prev="ab" * 32)
    assert 5_000 not in taken(*LINES, *far).lines
    near = chain_of(1, first=9, prev="ab" * 32)
    assert 9 in taken(*LINES, *near).lines


def test_glued_lines_and_what_surrounds_them() -> None:
    """They are parted where one begins; what is left over is kept."""
    text = (
        b"\xef\xbb\xbf" + LINES[0] + b"\r\n" + LINES[1] + LINES[2] + b"\x00\n" + LINES[3] + b" \n"
    )
    salvage = salvaged(text)
    assert [found.data for found in salvage.found] == LINES[:4]
    assert {found.fix for found in salvage.found} == {CUT_FREE}
    assert salvage.rests == []


@pytest.mark.parametrize(
    ("piece", "told"),
    [
        (b"", "it is empty"),
        (bytes(40), "it holds nothing but zero bytes, as a power cut leaves them"),
        (b"nothing", "it is not JSON"),
        (b"[]", "it is not a JSON object and nothing else"),
    ],
)
def test_what_is_no_line_is_named(piece: bytes, told: str) -> None:
    """With the number it has in the file."""
    (rest,) = taken(LINES[0], piece, *LINES[1:]).left
    assert (rest.number, rest.data, rest.why) == (2, piece, told)


def test_a_torn_line_is_named_by_its_length() -> None:
    """It was never acknowledged."""
    (rest,) = vouched(salvaged(LINES[0] + b"\n" + LINES[1][:40])).left
    assert rest.why == "it is torn after 40 bytes, and was never acknowledged"


def test_a_newer_log_is_not_taken_for_damage() -> None:
    """More than one line bears its version out; a single turned digit does not."""
    newer: list[bytes] = []
    for line in LINES:
        prev = digest(newer[-1]).encode() if newer else FIRST_PREV.encode()
        newer.append(
            line.replace(b'"v":1', b'"v":9').replace(line[line.index(b'"prev":"') + 8 :][:64], prev)
        )
    with pytest.raises(NewerLog):
        taken(*newer)
    assert 2 in taken(LINES[0], LINES[1].replace(b'"v":1', b'"v":9'), *LINES[2:]).lines


def test_nothing_is_nothing() -> None:
    """An empty file has no lines, and is no defect."""
    assert vouched(salvaged(b"")) == Vouched()


def test_many_pieces_cost_no_more_than_many_lines() -> None:
    """An empty line behind each of 20,000: a second of work, not one for every pair of pieces."""
    text = b"".join(line + b"\n\n" for line in chain_of(20_000))
    began = time.process_time()
    assert len(salvaged(text).found) == 20_000
    assert time.process_time() - began < 6


def test_many_gaps_cost_no_more_than_many_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    """A third of 20,000 lines gone, one here and one there: not one look at all lines for each gap."""
    monkeypatch.setattr(mending, "_EFFORT", 0)
    kept = [line for seq, line in enumerate(chain_of(20_000), 1) if seq % 3]
    salvage = salvaged(b"".join(line + b"\n" for line in kept))
    began = time.process_time()
    assert len(vouched(salvage).lines) == len(kept) == 13_334
    assert time.process_time() - began < 0.75


def test_what_is_left_is_known_where_it_stands_elsewhere_too() -> None:
    """A repeated line, or one that was put right, is no loss."""
    again = taken(*LINES, LINES[2])
    assert [(rest.why, rest.known) for rest in again.left] == [("it repeats line 3", True)]
    turned = LINES[2].replace(b"rust", b"rtst")
    mended = taken(*LINES[:2], turned, *LINES[3:])
    assert [(rest.known, "was put right" in rest.why) for rest in mended.left] == [(True, True)]
    other = taken(*LINES[:3], altered(LINES[3]), *LINES[4:])
    assert [rest.known for rest in other.left] == [False]


def far(count: int, first: int) -> list[bytes]:
    """Lines from that number on, behind a gap; said no later than the others."""
    lines: list[bytes] = []
    prev = "a" * 64
    for seq in range(first, first + count):
        lines.append(encode(Fact(seq, AT, 6.0, prev, "gap", {"why": "far"})))
        prev = digest(lines[-1])
    return lines


@pytest.mark.parametrize(("count", "most"), [(1, 1_000), (2, 1_000_000)])
def test_so_many_lines_may_be_lost_in_a_row_and_not_one_more(count: int, most: int) -> None:
    """A line alone is believed for a thousand, a chain for a million; where all in front of it is lost,
    too.
    """
    assert max(taken(*LINES, *far(count, 6 + most)).lines) == 5 + most + count
    assert max(taken(*LINES, *far(count, 7 + most)).lines) == 6
    assert min(taken(*far(count, 2)).lines) == 2
    assert min(taken(*far(count, 1 + most)).lines) == 1 + most
    assert taken(*far(count, 2 + most)).lines == {}


def test_only_what_was_written_after_a_line_of_the_log_is_a_rival() -> None:
    """Neither lines of another log that count the same, nor one that was altered and has no number."""
    assert taken(*LINES, *chain_of(3, "other")).rivals == {}
    assert taken(*LINES[:3], altered(LINES[3]), *LINES[4:]).rivals == {}


@pytest.mark.parametrize("number", [b"2", b"3", b"5"])
def test_a_last_line_whose_number_does_not_follow_is_left(number: bytes) -> None:
    """It names the line it was written after, and so contradicts its own number."""
    last = LINES[3].replace(b'"seq":4', b'"seq":' + number)
    result = taken(*LINES[:3], last)
    assert [line.data for line in result.lines.values()] == LINES[:3]
    assert [rest.data for rest in result.left] == [last]


def test_behind_a_gap_the_longest_of_several_chains_is_taken() -> None:
    """Of two as long, that which stands first in the file; never a shorter one."""
    short = [chain_of(2, f"short {n}", first=4, prev=f"{n}" * 64) for n in range(1, 7)]
    longest, another = (chain_of(3, said, first=4, prev="f" * 64) for said in ("one", "two"))
    result = taken(*LINES[:2], *(line for chain in short for line in chain), *longest, *another)
    assert [line.data for line in result.lines.values()] == [*LINES[:2], *longest]


def test_a_line_that_only_a_broken_one_names_is_vouched_for() -> None:
    """What is left of the line behind it still tells its hash, and nobody could have guessed that."""
    result = taken(*LINES[:2], LINES[3], LINES[4][:-1], LINES[5])
    assert (list(result.lines), result.on_trust) == ([1, 2, 4, 6], {2, 6})


def test_of_two_chains_as_long_that_which_begins_first_is_taken() -> None:
    """Wherever the other one, whose lines stand between those of the first, ends."""
    one, two = (chain_of(2, said, first=4, prev="f" * 64) for said in ("one", "two"))
    result = taken(*LINES[:2], one[0], *two, one[1])
    assert [line.data for line in result.lines.values()] == [*LINES[:2], *one]
    glued = taken(*LINES[:2], one[0] + two[0], two[1], one[1])
    assert [line.data for line in glued.lines.values()] == [*LINES[:2], *one]


def test_of_two_lines_written_after_the_same_one_that_which_stands_first_is_taken() -> None:
    """Where neither has more behind it, nor a name."""
    one, two = (chain_of(1, said, first=4, prev=digest(LINES[2]))[0] for said in ("one", "two"))
    assert taken(*LINES[:3], one, two).lines[4].data == one
    assert taken(*LINES[:3], two, one).lines[4].data == two


def test_a_last_line_whose_number_lies_within_the_log_is_left() -> None:
    """It was not the last that was written, and nothing else speaks for it."""
    lone = chain_of(1, "lone", first=4, prev="f" * 64)
    result = taken(*LINES[:3], *LINES[4:], *lone)
    assert list(result.lines) == [1, 2, 3, 5, 6]


def test_lines_counted_from_one_that_no_line_opens_are_no_log() -> None:
    """Not even where there are no others."""
    counted = [LINES[0].replace(b'"opened"', b'"gap"')]
    for seq in range(2, 5):
        counted += chain_of(1, first=seq, prev=digest(counted[-1]))
    assert taken(*counted).lines == {}
