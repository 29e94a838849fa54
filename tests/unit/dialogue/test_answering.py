"""Answers: affirm, negative, one of the options; the end; a grade that would soften *unsafe*."""

from __future__ import annotations

from typing import Protocol

import pytest

from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Amend, Entry, Kind, Withdraw


class _Live(Protocol):
    dialogue: Dialogue
    entries: dict[str, Entry]
    unsafe: tuple[str, ...]

    def say(self, text: str, *, after_s: float = 3.0, lasts_s: float = 0.0) -> Turn: ...
    def mumble(self, text: str, instead: str = "") -> Turn: ...
    @property
    def last(self) -> Entry: ...


def _what(turn: Turn) -> What | None:
    return turn.asked.what if turn.asked is not None else None


def test_affirm_settles_every_doubt(live: _Live) -> None:
    """The entry is as it was heard, with a fact of its own that says so."""
    live.mumble("left rear rail, hole")
    turn = live.say("affirm")
    assert turn.changes == (Amend(live.last.id, {}, why="affirm", doubts=()),)
    assert (turn.answered, live.last.doubtful, live.dialogue.question) == ("affirm", False, None)


def test_affirm_of_an_assumed_place_names_it(live: _Live) -> None:
    """The place was read back, and it was right."""
    live.say("left rear rail")
    live.say("kettle is on", after_s=50.0)
    live.mumble("hole")
    assert live.last.place_assumed
    live.say("affirm")
    assert (live.last.place_assumed, live.last.slots["zone"]) == (False, "rear-rail")


def test_what_follows_affirm_counts_for_itself(live: _Live) -> None:
    """ "Affirm, thirty millimetres" is the answer and a measure."""
    live.mumble("left rear rail, hole")
    turn = live.say("affirm, thirty millimetres")
    assert (turn.answered, turn.asked) == ("affirm", None)
    assert (live.last.doubtful, live.last.slots["size_mm"]) == (False, 30.0)


def test_the_same_report_again_is_an_answer(live: _Live) -> None:
    """Who says it once more means yes: no second entry."""
    live.mumble("left rear rail, hole")
    turn = live.say("left rear rail, hole")
    assert (turn.answered, len(live.entries), live.last.doubtful) == ("affirm", 1, False)


def test_another_report_is_none(live: _Live) -> None:
    """A crack there is an entry of its own."""
    live.mumble("left rear rail, hole")
    assert live.say("left rear rail, crack").answered == "lapsed"
    assert [entry.doubtful for entry in live.entries.values()] == [True, False]


def test_negative_takes_it_back(live: _Live) -> None:
    """The entry no longer holds; the log keeps it."""
    live.mumble("left rear rail, hole")
    turn = live.say("negative")
    assert [type(change) for change in turn.changes] == [Withdraw]
    assert (turn.answered, turn.asked, live.entries) == ("negative", None, {})


def test_negative_and_disregard_take_back_one(live: _Live) -> None:
    """The two words mean the same entry."""
    live.say("left sill, scale")
    live.mumble("left rear rail, hole")
    live.say("negative, disregard")
    assert [entry.slots["zone"] for entry in live.entries.values()] == ["sill"]


@pytest.mark.parametrize(
    ("words", "slot", "value"),
    [
        ("negative, right side", "side", "right"),
        ("negative, crack", "condition", "crack"),
        ("negative, front rail", "zone", "front-rail"),
    ],
)
def test_negative_with_what_it_is_puts_it_right(
    live: _Live, words: str, slot: str, value: str
) -> None:
    """One entry, corrected and no longer in doubt."""
    live.mumble("left rear rail, hole")
    turn = live.say(words)
    assert (turn.answered, len(live.entries)) == ("negative", 1)
    assert (live.last.slots[slot], live.last.doubtful) == (value, False)


def test_negative_that_says_nothing_new_is_asked_again(live: _Live) -> None:
    """ "Negative, left side" of what is on the left changes nothing."""
    live.mumble("left rear rail, hole")
    turn = live.say("negative, left side")
    assert (bool(turn.refused), _what(turn), live.last.doubtful) == (True, What.CONFIRM, True)


def test_the_next_best_reading_is_offered(live: _Live) -> None:
    """After *negative*; *affirm* makes it the entry."""
    live.mumble("left rear rail, hole", instead="left rear rail, scale")
    turn = live.say("negative")
    assert (_what(turn), turn.changes) == (What.INSTEAD, ())
    live.say("affirm")
    assert (live.last.slots["condition"], live.last.doubtful) == ("scale", False)


@pytest.mark.parametrize(("last", "left"), [("negative", 0), ("right sill, scale", 2)])
def test_the_offer_can_be_declined_or_left(live: _Live, last: str, left: int) -> None:
    """A second *negative* takes the entry back; going on leaves it, doubtful."""
    live.mumble("left rear rail, hole", instead="left rear rail, scale")
    live.say("negative")
    live.say(last)
    assert len(live.entries) == left
    assert not left or next(iter(live.entries.values())).doubtful


def test_a_clear_place_is_never_offered_for_a_finding(live: _Live) -> None:
    """A *yes* that was misheard must not clear metal."""
    turn = live.mumble("left rear rail, hole", instead="left rear rail, solid, no rust")
    assert turn.asked == Ask(What.CONFIRM, live.last.id)


@pytest.mark.parametrize(
    ("report", "reply", "slots"),
    [
        ("cab mount, scale", "left", {"zone": "cab-mount", "side": "left"}),
        ("cab mount, scale", "it's the right one", {"zone": "cab-mount", "side": "right"}),
        ("cab mount, scale", "no it's the right", {"zone": "cab-mount", "side": "right"}),
        ("cab mount, scale", "left cab mount", {"zone": "cab-mount", "side": "left"}),
        ("cab mount, scale", "both sides", {"zone": "cab-mount", "side": "both"}),
        ("cab mount, scale", "affirm, left", {"zone": "cab-mount", "side": "left"}),
        ("left rail, scale", "rear rail", {"zone": "rear-rail", "side": "left"}),
        ("left rail, scale", "the front one", {"zone": "front-rail", "side": "left"}),
        ("left rail, scale", "the middle one", {"zone": "mid-rail", "side": "left"}),
        ("rail, scale", "rear left", {"zone": "rear-rail", "side": "left"}),
        ("left sill inside, scale", "inboard", {"zone": "sill", "side": "left", "face": "inboard"}),
    ],
)
def test_an_option_answers(live: _Live, report: str, reply: str, slots: dict[str, str]) -> None:
    """The entry gets its slot and loses that doubt; there the inspector is from now on."""
    live.say(report)
    turn = live.say(reply)
    assert (turn.answered, turn.asked, live.last.doubtful) == ("answered", None, False)
    assert {name: live.last.slots[name] for name in slots} == slots
    assert turn.place == slots
    assert len(live.entries) == 1


def test_a_zone_named_at_last_may_need_its_side(live: _Live) -> None:
    """ "Hanger" … "rear" … which side?"""
    live.say("hanger, crack")
    turn = live.say("rear")
    assert turn.asked == Ask(What.SLOT, live.last.id, slot="side", options=("left", "right"))
    assert live.last.doubtful


def test_a_fault_of_the_same_breath_gets_its_place_too(live: _Live) -> None:
    """ "Rail, scale on the left, hole on the right": one answer places both."""
    live.say("rail, scale on the left, hole on the right")
    live.say("rear rail")
    assert [
        (e.kind, e.slots["zone"], e.slots["side"], e.slots["condition"], e.doubtful)
        for e in live.entries.values()
    ] == [
        (Kind.FINDING, "rear-rail", "left", "scale", False),
        (Kind.FINDING, "rear-rail", "right", "hole", False),
    ]


@pytest.mark.parametrize("reply", ["affirm", "driver side"])
def test_what_does_not_tell_which_one_is_asked_again(live: _Live, reply: str) -> None:
    """The question stays, with a reason."""
    turn = live.say("cab mount, scale") and live.say(reply)
    assert (turn.answered, _what(turn), bool(turn.refused)) == ("", What.SLOT, True)
    assert live.say("left").answered == "answered"


def test_negative_to_which_one_leaves_it_open(live: _Live) -> None:
    """Not known: the entry is kept, doubtful, and not asked about again."""
    live.say("cab mount, scale")
    turn = live.say("negative")
    assert (turn.answered, turn.asked, turn.changes) == ("negative", None, ())
    assert live.last.doubtful


@pytest.mark.parametrize(
    "reply", ["rear rail", "left rear rail", "right rear rail, crack", "right side, scale"]
)
def test_more_than_an_option_is_no_answer(live: _Live, reply: str) -> None:
    """A place elsewhere, or a report: the inspector has gone on."""
    live.say("cab mount, hole")
    first = live.last.id
    assert live.say(reply).answered == "lapsed"
    assert "side" not in live.entries[first].slots


def test_a_correction_of_what_was_asked_answers_it(live: _Live) -> None:
    """And a *disregard* does."""
    live.mumble("left rear rail, hole")
    assert live.say("correction, crack").answered == "answered"
    live.mumble("left front rail, hole")
    assert live.say("disregard").answered == "answered"
    assert live.dialogue.question is None


def test_a_spelled_number_is_kept_by_affirm(live: _Live) -> None:
    """As in batch; the question has a time now, and talk does not close it."""
    live.say("i spell victor india november one mike eight golf delta mike five alfa x-ray kilo")
    assert live.last.questions
    live.say("kettle is on", after_s=1.0)
    spelt = next(entry for entry in live.entries.values() if "vin" in entry.slots)
    assert live.say("affirm", after_s=1.0).answered == "affirm"
    assert not live.entries[spelt.id].doubtful


def test_only_affirm_ends_the_inspection(live: _Live) -> None:
    """Neither *finish inspection* nor saying it twice does."""
    for turn in (live.say("finish inspection"), live.say("finish inspection")):
        assert (turn.finished, turn.asked) == (False, Ask(What.FINISH))
    turn = live.say("affirm")
    assert (turn.finished, turn.answered, turn.asked) == (True, "affirm", None)


@pytest.mark.parametrize("words", ["negative", "left sill, scale"])
def test_the_end_can_be_called_off(live: _Live, words: str) -> None:
    """By *negative*, or by going on."""
    live.say("finish inspection")
    assert not live.say(words).finished
    turn = live.say("affirm")
    assert (turn.finished, bool(turn.refused)) == (False, True)


def test_the_end_lapses(live: _Live) -> None:
    """A late *affirm* ends nothing, and says how to."""
    live.say("finish inspection")
    turn = live.say("affirm", after_s=9.0)
    assert not turn.finished
    assert "finish inspection" in turn.refused


def _graded_unsafe(live: _Live) -> str:
    live.say("left rear rail, hole")
    live.unsafe = (live.last.id,)
    return live.last.id


@pytest.mark.parametrize("words", ["call it cosmetic", "correction, cosmetic"])
def test_a_lower_grade_is_held_back_and_asked(live: _Live, words: str) -> None:
    """Until there is a reason and *affirm*, nothing of it reaches the entry; the words are kept."""
    unsafe = _graded_unsafe(live)
    turn = live.say(words)
    assert turn.asked == Ask(What.LOWER, unsafe, grade="cosmetic")
    assert "spoken_grade" not in live.entries[unsafe].slots
    assert live.last.kind is Kind.REMARK


def test_reason_and_affirm_lower_it(live: _Live) -> None:
    """The reason is a remark, the grade a fact of its own with *affirm*."""
    unsafe = _graded_unsafe(live)
    live.say("call it cosmetic")
    turn = live.say("that is because the bracket was cut")
    assert turn.asked is not None
    assert turn.asked.reason == "that is because the bracket was cut"
    assert "spoken_grade" not in live.entries[unsafe].slots
    turn = live.say("affirm")
    assert turn.changes == (Amend(unsafe, {"spoken_grade": "cosmetic"}, why="affirm"),)
    assert (turn.answered, turn.asked) == ("affirm", None)


def test_affirm_without_a_reason_is_asked_again(live: _Live) -> None:
    """The reason is part of it."""
    unsafe = _graded_unsafe(live)
    live.say("call it cosmetic")
    turn = live.say("affirm")
    assert (_what(turn), bool(turn.refused)) == (What.LOWER, True)
    assert "spoken_grade" not in live.entries[unsafe].slots


@pytest.mark.parametrize("words", ["negative", "right sill, scale", "stand by"])
def test_unsafe_stays_where_it_is_not_lowered(live: _Live, words: str) -> None:
    """Called off, or left: a later *affirm* is refused."""
    unsafe = _graded_unsafe(live)
    live.say("call it cosmetic")
    live.say(words)
    live.say("logbook go ahead")
    assert live.say("affirm").refused
    assert "spoken_grade" not in live.entries[unsafe].slots


def test_the_rest_of_a_report_is_taken_at_once(live: _Live) -> None:
    """ "Thirty millimetres, call it cosmetic": the measure counts now."""
    unsafe = _graded_unsafe(live)
    assert _what(live.say("thirty millimetres, call it cosmetic")) is What.LOWER
    slots = live.entries[unsafe].slots
    assert (slots["size_mm"], "spoken_grade" in slots) == (30.0, False)


def test_negative_with_a_lower_grade_is_asked_too(live: _Live) -> None:
    """ "Negative, call it cosmetic" is no way round the question."""
    live.unsafe = ("e2.1",)
    live.mumble("left rear rail, hole")
    turn = live.say("negative, call it cosmetic")
    assert turn.asked == Ask(What.LOWER, "e2.1", grade="cosmetic")
    assert "spoken_grade" not in live.entries["e2.1"].slots


@pytest.mark.parametrize("words", ["call it unsafe", "forty millimetres"])
def test_what_softens_nothing_is_not_asked(live: _Live, words: str) -> None:
    """The same grade, or a measure."""
    _graded_unsafe(live)
    assert live.say(words).asked is None
