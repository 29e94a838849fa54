"""Lines of another log among those of a damaged one: they stay out, and what is left is the log's own."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

import pytest

from voicelog.domain.fact import Fact
from voicelog.journal.belonging import Evidence
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.clock import rfc3339
from voicelog.journal.lines import digest, encode
from voicelog.journal.naming import folder_names, opened_by_name
from voicelog.journal.pieces import Found
from voicelog.journal.salvage import salvaged
from voicelog.journal.vouching import STRANGE, Vouched, vouched

OPENED = datetime(2026, 3, 14, 9, 5, 30, tzinfo=UTC)
EARLIER = OPENED - timedelta(hours=3)


def chain_of(count: int, opened: datetime, said: str) -> list[bytes]:
    """Lines written one after the other, ten seconds between them."""
    lines: list[bytes] = []
    for seq in range(1, count + 1):
        offset_s = 10.0 * (seq - 1)
        at = rfc3339(opened + timedelta(seconds=offset_s))
        prev = digest(lines[-1]) if lines else FIRST_PREV
        kind = "opened" if seq == 1 else "gap"
        lines.append(encode(Fact(seq, at, offset_s, prev, kind, {"why": f"{said} {seq}"})))
    return lines


OWN, OTHER = chain_of(8, OPENED, "own"), chain_of(8, EARLIER, "other")


def taken(lines: Iterable[bytes], evidence: Evidence | None = None) -> Vouched:
    """What is taken of a file of these lines."""
    found = salvaged(b"".join(line + b"\n" for line in lines))
    return vouched(found, evidence or Evidence())


def said(result: Vouched) -> list[tuple[int, str]]:
    """Numbers, and whose lines they are."""
    own = dict.fromkeys(OWN, "own") | dict.fromkeys(OTHER, "other")
    return [(seq, own[line.data]) for seq, line in sorted(result.lines.items())]


def test_the_beginning_of_another_log_is_not_this_one_s() -> None:
    """Its lines have free numbers, and were written into a log opened hours before."""
    result = taken([*OTHER[:3], *OWN[3:]])
    assert said(result) == [(seq, "own") for seq in (4, 5, 6, 7, 8)]
    assert {rest.why for rest in result.left} == {STRANGE}


def test_where_lines_are_gone_none_of_another_log_takes_their_place() -> None:
    """Not in a gap, and not behind the last one either."""
    result = taken([*OWN[:3], *OTHER[3:5], OWN[5], OWN[6], OTHER[7]])
    assert said(result) == [(seq, "own") for seq in (1, 2, 3, 6, 7)]


def test_a_clip_that_lies_there_outweighs_many_lines() -> None:
    """The longer log is the other one; of this one, the folder holds what a line tells of."""

    def proves(line: Found) -> bool:
        return line.data == OWN[1]

    result = taken([*OTHER, *OWN[:3]], Evidence(proves))
    assert said(result) == [(1, "own"), (2, "own"), (3, "own")]


def test_the_folder_s_name_tells_when_the_log_was_opened() -> None:
    """Where nothing was kept but words; somebody else's name for it tells nothing."""
    named = opened_by_name(next(folder_names(OPENED, "pickup")))
    result = taken([*OTHER, *OWN[:3]], Evidence(opened_s=named))
    assert said(result) == [(1, "own"), (2, "own"), (3, "own")]
    assert opened_by_name("rescued logs") is None


def test_a_clock_put_right_by_some_seconds_parts_no_log() -> None:
    """Behind a gap the log goes on by a clock that is half a minute ahead."""
    ahead = chain_of(8, OPENED + timedelta(seconds=30), "own")
    result = taken([*OWN[:3], *ahead[4:]])
    assert sorted(result.lines) == [1, 2, 3, 5, 6, 7, 8]


def test_two_programs_that_went_on_with_one_log() -> None:
    """The longer end is taken; the lines of the other are named, with the numbers they share."""
    other = Fact(4, "2026-03-14T09:06:00Z", 30.0, digest(OWN[2]), "gap", {"why": "by the other"})
    rival = encode(other)
    result = taken([*OWN[:5], rival, *OWN[5:]])
    assert said(result) == [(seq, "own") for seq in range(1, 9)]
    assert {seq: [line.data for line in lines] for seq, lines in result.rivals.items()} == {
        4: [rival]
    }
    assert [rest.why.partition(",")[0] for rest in result.left] == ["two programs wrote line 4"]


def test_all_that_the_other_program_wrote_is_named() -> None:
    """Not only its first line, which stands behind one of the log, but those behind that, too; wherever
    in the file they stand.
    """
    rivals: list[bytes] = []
    for seq in (4, 5):
        prev = digest(rivals[-1] if rivals else OWN[2])
        rivals.append(encode(Fact(seq, "2026-03-14T09:06:00Z", 30.0, prev, "gap", {})))
    for place in (3, 5, 8):
        result = taken([*OWN[:place], *rivals, *OWN[place:]])
        assert said(result) == [(seq, "own") for seq in range(1, 9)]
        named = {seq: [line.data for line in lines] for seq, lines in result.rivals.items()}
        assert named == {4: rivals[:1], 5: rivals[1:]}


def test_a_line_that_was_put_right_has_no_rival() -> None:
    """One bit turned over in it: what stands in the file is no line of another program."""
    flipped = OWN[3].replace(b"own 4", b"own 5")
    assert hashlib.sha256(flipped).hexdigest() != digest(OWN[3])
    result = taken([*OWN[:3], flipped, *OWN[4:]])
    assert (said(result)[3], result.rivals) == ((4, "own"), {})


def test_a_line_alone_between_two_gaps_is_taken_where_its_clip_lies_there() -> None:
    """Without, it might be anybody's."""
    lines = [*OWN[:2], OWN[3], *OWN[5:]]
    assert 4 not in taken(lines).lines
    assert taken(lines, Evidence(lambda line: line.seq == 4)).on_trust == {2, 4, 8}


def test_what_a_tool_spaced_otherwise_is_found_again() -> None:
    """The words are the same, and the hash tells that this program wrote them so."""
    spaced = [line.replace(b'":', b'": ').replace(b',"', b', "') for line in OWN]
    assert spaced[0] != OWN[0]
    assert list(taken(spaced).lines) == list(range(1, 9))
    wide = b"".join(line + b"\n" for line in OWN).decode().encode("utf-16")
    assert said(vouched(salvaged(wide))) == [(seq, "own") for seq in range(1, 9)]


@pytest.mark.parametrize(("apart_s", "same"), [(60.0, True), (60.001, False)])
def test_so_far_apart_may_clocks_be_within_one_log(apart_s: float, same: bool) -> None:
    """A minute, and not a millisecond more."""
    ahead = chain_of(8, OPENED + timedelta(seconds=apart_s), "own")
    assert (8 in taken([*OWN[:5], *ahead[6:]]).lines) == same


@pytest.mark.parametrize("apart_s", [-60.0, 60.0])
def test_so_far_from_its_name_may_a_log_have_been_opened(apart_s: float) -> None:
    """A minute earlier or later; where it is more, the log with more lines is taken."""
    for more_s, own in ((0.0, True), (apart_s / 60_000, False)):
        named = (OPENED + timedelta(seconds=apart_s + more_s)).timestamp()
        result = taken([*OTHER, *OWN[:3]], Evidence(opened_s=named))
        assert (said(result)[0] == (1, "own")) == own


def test_of_one_log_alone_nothing_is_asked() -> None:
    """Whether each of its files lies there takes long, and would change nothing."""
    asked: list[Found] = []
    assert len(taken(OWN, Evidence(lambda line: not asked.append(line))).lines) == 8
    assert asked == []
