"""What a line of a damaged log becomes in the new one: kept, kept in part, or left out with the reason."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.fact import Fact
from voicelog.journal.chain import FIRST_PREV, Chain
from voicelog.journal.lines import decode, encode
from voicelog.journal.pieces import Asked, Found, Restored
from voicelog.journal.restoring import chained, restored
from voicelog.journal.salvage import salvaged
from voicelog.journal.vouching import Vouched

AT = "2026-03-14T09:05:30.250Z"
OPENED = Fact(1, AT, 0.0, FIRST_PREV, "opened", {"log_id": "x"})
SHA = "a" * 64


def entry(name: str) -> dict[str, Any]:
    """The least that an entry is."""
    return {"id": name, "utterance": "u2", "at": AT, "kind": "remark", "slots": {}}


def add(name: str) -> dict[str, Any]:
    """A change that adds it."""
    return {"do": "add", "entry": entry(name)}


def withdraw(name: str) -> dict[str, Any]:
    """A change that takes it back."""
    return {"do": "withdraw", "entry": name}


def found(seq: int, kind: str, body: Mapping[str, Any]) -> Found:
    """A line as it was found."""
    return read(encode(Fact(seq, AT, float(seq), FIRST_PREV, kind, body)), seq)


def read(data: bytes, number: int) -> Found:
    """The same from its bytes."""
    (line,) = salvaged(data + b"\n").found
    return replace(line, number=number)


def said(seq: int, *changes: object, **more: Any) -> Found:
    """An utterance."""
    return found(seq, "utterance", {"utterance": f"u{seq}", "changes": list(changes), **more})


def new(
    lines: Sequence[Found], *, whole: bool = True, on_trust: Sequence[int] = (), end: int = 1
) -> tuple[list[Fact], Restored]:
    """The facts behind the first, and what was told of them."""
    told = Restored()
    taken = Vouched(
        {1: read(encode(OPENED), 1), **{line.seq: line for line in lines}}, set(on_trust)
    )
    asked = Asked(lambda _name, _sha256: whole, lambda _fact: "")
    return list(restored(taken, OPENED, asked, told, end)), told


def test_a_whole_line_stays_as_it_was() -> None:
    """With its number, its time and all that it says; a last line that is known of is not forgotten."""
    facts, told = new([said(2, add("e2.1"), text="rust"), found(3, "gap", {"lost_s": 1})], end=5)
    assert [(f.seq, f.type, f.offset_s) for f in facts[:2]] == [
        (2, "utterance", 2.0),
        (3, "gap", 3.0),
    ]
    assert facts[0].body == {"utterance": "u2", "changes": [add("e2.1")], "text": "rust"}
    assert [(f.seq, f.type, f.body) for f in facts[2:]] == [
        (4, "left-out", {}),
        (5, "left-out", {}),
    ]
    assert (told.kept, told.lost, told.left, told.cut) == (2, [4, 5], [], [])


def test_a_line_that_is_lost_leaves_its_number() -> None:
    """At the time of the line in front of it, so that time never goes back."""
    facts, told = new([said(3)])
    assert [(f.seq, f.type, f.offset_s) for f in facts] == [
        (2, "left-out", 0.0),
        (3, "utterance", 3.0),
    ]
    assert told.lost == [2]


def test_a_log_of_its_first_line_alone() -> None:
    """Nothing is made up."""
    assert new([])[0] == []


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (found(2, "opened", {}), "it opens a log, and stands within one"),
        (said(2, {"do": "add"}), "what it says cannot be read"),
        (found(2, "second-opinion", {"proposed": [7]}), "what it says cannot be read"),
        (said(2, heard={"engine": "typed"}), "what it says cannot be read"),
        (found(2, "revised", {"heard": "rust"}), "what it says cannot be read"),
        (
            found(2, "utterance", {"changes": []}),
            "it does not say what a line of its type has to say",
        ),
    ],
)
def test_what_a_log_cannot_hold_is_left_out(line: Found, why: str) -> None:
    """The piece is kept beside, with the reason."""
    facts, told = new([line])
    assert [(f.seq, f.type) for f in facts] == [(2, "left-out")]
    assert [(rest.number, rest.data, rest.why) for rest in told.left] == [(2, line.data, why)]
    assert (told.kept, told.lost) == (0, [2])


def test_what_was_heard_matters_only_where_an_ear_heard() -> None:
    """A type that nobody knows may have a key of that name."""
    assert new([found(2, "weather", {"heard": "rain"})])[1].kept == 1


def test_a_line_on_trust_must_give_its_own_ids() -> None:
    """Nothing vouches for its number; the ids in it do, or contradict it."""
    assert new([said(2, add("e2.1"))], on_trust=[2])[1].kept == 1
    for line in (said(2, add("e3.1")), found(2, "utterance", {"utterance": "u3", "changes": []})):
        told = new([line], on_trust=[2])[1]
        assert [rest.why for rest in told.left] == ["it gives ids that are those of another line"]
        assert new([line])[1].kept == 1


def test_an_utterance_is_not_there_twice() -> None:
    """Nor is a clip."""
    twice = found(3, "utterance", {"utterance": "u2", "changes": []})
    assert [rest.why for rest in new([said(2), twice])[1].left] == ["it gives 'u2' a second time"]
    again = found(4, "utterance", {"utterance": "u3", "changes": []})
    told = new([said(2), said(3), again])[1]
    assert [rest.why for rest in told.left] == ["it gives 'u3' a second time"]
    clip = {"file": "clips/u2.flac", "sha256": SHA}
    told = new([said(2, clip=clip), said(3, clip=clip)])[1]
    assert [rest.why for rest in told.left] == ["it gives 'clips/u2.flac' a second time"]


def test_changes_of_an_entry_that_is_lost_are_put_aside() -> None:
    """Those of entries that are there hold; what was put aside before stays aside."""
    line = said(3, withdraw("e9.1"), withdraw("e2.1"), add("e2.1"), changes_lost=[7])
    facts, told = new([said(2, add("e2.1")), line])
    assert facts[1].body["changes"] == [withdraw("e2.1")]
    assert facts[1].body["changes_lost"] == [7, withdraw("e9.1"), add("e2.1")]
    assert told.cut == [3]


def test_sound_that_is_lost_is_told_of_under_another_name() -> None:
    """Not where somebody erased it: then nothing is missing."""
    clip = {"file": "clips/u2.flac", "sha256": SHA}
    line = said(2, clip=clip)
    facts, told = new([line], whole=False)
    assert facts[0].body == {"utterance": "u2", "changes": [], "clip_lost": clip}
    assert told.silent == ["clips/u2.flac"]
    assert new([line])[0][0].body["clip"] == clip
    erased = found(3, "clip-erased", {"utterance": "u2"})
    facts, told = new([line, erased], whole=False)
    assert (facts[0].body["clip"], told.silent) == (clip, [])


def test_a_picture_that_is_lost_changes_its_type() -> None:
    """What the line says of it stays."""
    body = {"file": "photos/p2.jpg", "sha256": SHA, "original": "a.jpg"}
    line = found(2, "photo", body)
    facts, told = new([line], whole=False)
    assert (facts[0].type, facts[0].body, told.pictures) == ("photo-lost", body, ["photos/p2.jpg"])
    facts, told = new([line])
    assert (facts[0].type, told.pictures) == ("photo", [])


def test_a_signature_vouches_for_nothing_any_more() -> None:
    """One that never held is told of; where a line is lost in front of it, nobody can tell."""
    before = hashlib.sha256(encode(OPENED) + b"\n").hexdigest()
    good = {"by": "A. N. Other", "lines": 1, "sha256": before, "open": []}
    facts, told = new([found(2, "signed", good)])
    assert (facts[0].type, facts[0].body, told.signed) == ("was-signed", good, [2])
    assert told.denied == []
    facts, told = new([found(2, "signed", good | {"lines": 7})])
    assert (facts[0].type, told.denied) == ("was-signed", [2])
    assert "signs 7 lines" in facts[0].body["denied"]
    assert new([found(3, "signed", good | {"lines": 7})])[1].denied == []
    behind = [said(3), found(4, "signed", good | {"lines": 7})]
    assert new(behind)[1].denied == []
    facts, told = new([found(2, "signed", good | {"lines": None})])
    assert (facts[0].type, told.denied) == ("was-signed", [2])
    assert "'lines' is missing or wrong" in facts[0].body["denied"]


def test_the_new_lines_are_a_chain() -> None:
    """Each names the one before, by its new bytes; the first has the number one, whatever it had."""
    facts, _ = new([said(2), said(3)])
    lines = list(chained(Fact(9, AT, 0.0, SHA, "opened", {}), iter(facts)))
    chain = Chain()
    for number, line in enumerate(lines, 1):
        assert line.endswith(b"\n")
        fact = decode(line[:-1], number)
        chain.check(fact)
        chain = chain.after(fact, line[:-1])
    assert chain.lines == 3


def test_what_another_program_wrote_under_the_same_number_is_put_aside() -> None:
    """Its changes are not applied, and are not lost either."""
    told = Restored()
    opening, mine, other = read(encode(OPENED), 1), said(2, add("e2.1")), said(2, withdraw("e9.1"))
    taken = Vouched({1: opening, 2: mine}, rivals={2: [other], 3: [said(3)]})
    (fact,) = restored(taken, OPENED, Asked(lambda _name, _sha256: True), told, 1)
    assert fact.body["changes"] == [add("e2.1")]
    assert fact.body["changes_lost"] == [withdraw("e9.1")]
    assert told.twice == [2]
