"""What one more utterance costs, however much was said before: counted in calls of functions."""

from __future__ import annotations

import sys
from types import FrameType

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Add, Entry, Finding, Kind, Withdraw
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard
from voicelog.runtime.dangers import Dangers
from voicelog.runtime.understanding import Understanding

AT = "2026-01-05T08:00:00Z"


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """What a person gets who edits nothing."""
    return load_grammar()


def entry(number: int) -> Entry:
    """One of many findings: every other one is unsafe."""
    slots = {"zone": "mid-rail", "side": "left", "condition": ("hole", "surface-rust")[number % 2]}
    return Entry(f"e{number}.1", f"u{number}", AT, Kind.FINDING, slots)


def going_on(grammar: Grammar, entries: int) -> Understanding:
    """An inspection with so many entries; what is built at the first utterance is built."""
    understanding = Understanding(Settings(), grammar, 8.0)
    understanding.resume(
        Fact(n, AT, float(n), "", "utterance", {"changes": [change_to_json(Add(entry(n)))]})
        for n in range(2, 2 + entries)
    )
    say(understanding, "right sill, hole, ten millimetres", 9_001)
    say(understanding, "probed it, went straight through", 9_002)
    return understanding


def say(understanding: Understanding, text: str, number: int) -> None:
    """An utterance, and the inspection that its acknowledgement carries."""
    at_s = 5.0 * number
    understanding.take(
        Heard.typed(text), utterance=f"u{number}", at=AT, at_s=at_s, began_s=at_s - 1
    )
    understanding.inspection()


def calls(understanding: Understanding, *texts: str) -> int:
    """How many functions are called, Python's own ones included."""
    count = 0

    def note(_frame: FrameType, event: str, _about: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    sys.setprofile(note)
    try:
        for number, text in enumerate(texts, 9_003):
            say(understanding, text, number)
    finally:
        sys.setprofile(None)
    return count


def test_one_more_utterance_costs_the_same(grammar: Grammar) -> None:
    """A finding, a probe, a correction, taking back: beside 20 entries or 2,000."""
    said = (
        "left sill, hole, five millimetres", "metal is firm", "correction, right side", "disregard",
        "left kick-up, crack, unsafe", "tea at four",
    )  # fmt: skip
    calls(going_on(grammar, 3), *said)  # whatever is kept of words is kept from now on
    few, many = (calls(going_on(grammar, entries), *said) for entries in (20, 2_000))
    assert abs(many - few) < few / 50


def test_a_copy_of_the_dangers_stays_as_it_was() -> None:
    """Before every utterance it is noted what was unsafe then."""
    dangers = Dangers()
    hole = Finding(entry(2), grade=Grade.UNSAFE, computed_grade=Grade.UNSAFE)
    dangers.note([hole, Finding(entry(3), grade=Grade.TREAT)])
    before = dangers.copy()
    dangers.note([Finding(entry(2), grade=Grade.UNSAFE, withdrawn=True)])
    assert ("e2.1" in before, "e3.1" in before, "e2.1" in dangers) == (True, False, False)
    assert (before.more([]), before.more([Finding(entry(2))]), dangers.more([hole])) == (0, -1, 1)


def test_what_was_taken_back_and_holds_again_is_where_it_was(grammar: Grammar) -> None:
    """The newest entry is what "disregard" takes back, whatever came back to life meanwhile."""
    understanding = going_on(grammar, 3)
    understanding.heed([Withdraw("e2.1")], None, 60_000.0)
    say(understanding, "disregard", 13_000)
    gone = [f.entry.id for f in understanding.inspection().findings if f.withdrawn]
    assert gone == ["e2.1", "e9001.1"]
