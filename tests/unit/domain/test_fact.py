"""Entries and changes as plain JSON, and the way back."""

from __future__ import annotations

import json

import pytest

from voicelog.domain.change_json import (
    change_from_json,
    change_to_json,
    entry_from_json,
    entry_to_json,
)
from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Kind,
    Question,
    Replace,
    Restore,
    Withdraw,
    amended,
    entry_id,
)
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.heard import Heard, Hypothesis, Word, heard_from_json, heard_to_json
from voicelog.errors import LogFault

FULL = Entry(
    "e2.1", "u2", "2026-03-14T08:05:30.000Z", Kind.FINDING,
    {"zone": "sill", "condition": "hole", "size_mm": 15.0}, "hole ten to fifteen mil",
    ("another reading fits nearly as well",), questions=(Question("side", ("left", "right")),),
    place_assumed=True, runner_up={"condition": "pitting"}, ranges={"size_mm": (10.0, 15.0)},
)  # fmt: skip
CHANGES: dict[str, Change] = {
    "a new entry": Add(FULL),
    "a correction by a range": Amend(
        "e2.1", {"size_mm": 20.0}, "correction", drop=("probe",), kind=Kind.FINDING, doubts=(),
        absent=(), questions=(Question("zone", ("sill", "kick-up")),),
        ranges={"size_mm": (15.0, 20.0)},
    ),
    "a bare amendment": Amend("e2.1", {"probe": "firm"}, "probe"),
    "a withdrawal": Withdraw("e2.1"),
    "what was withdrawn holds again": Restore("e2.1"),
    "an entry as it is from now on": Replace(FULL),
}  # fmt: skip


@pytest.mark.parametrize("change", CHANGES.values(), ids=list(CHANGES))
def test_a_change_survives_the_journal(change: Change) -> None:
    """Through JSON text and back it is the same change."""
    assert change_from_json(json.loads(json.dumps(change_to_json(change)))) == change
    assert entry_id(change) == "e2.1"


HEARD = {
    "of an ear": Heard(
        (
            Hypothesis("left sill,", -0.5, (Word("left", 0.9, 0.1, 0.4), Word("sill,", 0.25))),
            Hypothesis("left seal", -1.75),
        ),
        "built-in", "tiny",
    ),
    "typed": Heard.typed("left sill, scale"),
    "nothing": Heard((), "vosk", "small"),
}  # fmt: skip


@pytest.mark.parametrize("heard", HEARD.values(), ids=list(HEARD))
def test_what_was_heard_survives_the_journal(heard: Heard) -> None:
    """Every hypothesis with its words, and what the ear knew of them."""
    assert heard_from_json(json.loads(json.dumps(heard_to_json(heard)))) == heard


@pytest.mark.parametrize(
    "odd",
    [
        {"id": 5}, {"utterance": None}, {"at": 3}, {"text": 7}, {"reason": []}, {"doubts": "abc"},
        {"doubts": [1]}, {"absent": [None]}, {"tags": [{}]}, {"slots": []}, {"slots": {"side": ["left"]}},
        {"slots": {"count": True}}, {"runner_up": {"zone": None}}, {"ranges": {"size_mm": [1, "a"]}},
        {"questions": [{"slot": "side", "options": "left"}]}, {"kind": "rumour"},
    ],
    ids=str,
)  # fmt: skip
def test_what_no_entry_can_say_is_refused(odd: dict[str, object]) -> None:
    """Where it is read, with the number of its line; not where it would first be shown or graded."""
    document = {**entry_to_json(FULL), **odd}
    with pytest.raises((KeyError, TypeError, ValueError)):
        entry_from_json(document)
    fact = Fact(7, "", 0.0, "", "utterance", {"changes": [{"do": "add", "entry": document}]})
    with pytest.raises(LogFault, match="Line 7"):
        changes_of(fact)


@pytest.mark.parametrize(
    "document",
    [
        {},
        {"engine": "vosk", "hypotheses": [{}]},
        {"engine": "vosk", "hypotheses": 3},
        {"engine": "vosk", "hypotheses": [{"text": "a", "words": [{"text": "a", "end_s": []}]}]},
    ],
)
def test_what_nobody_heard_is_refused(document: dict[str, object]) -> None:
    """Rather than taken for silence."""
    with pytest.raises((KeyError, TypeError, ValueError)):
        heard_from_json(document)


def test_what_is_said_anew_loses_its_range_and_its_question() -> None:
    """The range was of the earlier number; the other question stays open."""
    after = amended(FULL, Amend("e2.1", {"size_mm": 20.0, "side": "left"}, "correction"))
    assert (after.ranges, after.questions) == ({}, ())
    kept = amended(FULL, Amend("e2.1", {"probe": "firm"}, "probe"))
    assert (kept.ranges, kept.questions) == (FULL.ranges, FULL.questions)


def test_a_dropped_slot_takes_its_range_along() -> None:
    """A place that turned out clear has no size, and no range of one."""
    change = Amend("e2.1", {}, "correction", drop=("condition", "size_mm"), kind=Kind.CLEAR)
    assert amended(FULL, change).ranges == {}


def test_a_zone_said_again_is_no_longer_assumed() -> None:
    """A side alone leaves the zone as it was carried over."""
    assert not amended(FULL, Amend("e2.1", {"zone": "sill"}, "correction")).place_assumed
    assert amended(FULL, Amend("e2.1", {"side": "left"}, "correction")).place_assumed


def test_a_reason_goes_with_the_kind_it_explains() -> None:
    """What was looked at after all has no reason why it could not be."""
    unseen = Entry("e2.1", "u2", FULL.at, Kind.NOT_SEEN, {"zone": "sill"}, reason="mud")
    change = Amend("e2.1", {"condition": "hole"}, "correction", kind=Kind.FINDING)
    assert amended(unseen, change).reason == ""
    assert amended(unseen, Amend("e2.1", {"side": "left"}, "correction")).reason == "mud"
