"""Live, the tool asks: what it asks about, and how long it waits."""

from __future__ import annotations

from typing import Any, Protocol

import pytest

from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Entry, Kind


class _Live(Protocol):
    dialogue: Dialogue
    entries: dict[str, Entry]
    at_s: float

    def say(self, text: str, *, after_s: float = 3.0, lasts_s: float = 0.0) -> Turn: ...
    def mumble(self, text: str, instead: str = "") -> Turn: ...
    @property
    def last(self) -> Entry: ...


def _what(turn: Turn) -> What | None:
    return turn.asked.what if turn.asked is not None else None


@pytest.mark.parametrize(
    ("words", "what"),
    [
        ("left rear rail, hole", What.CONFIRM),
        ("left kick-up, surface rust", What.CONFIRM),
        ("right shock mount, solid, no rust", What.CONFIRM),
        ("left crush section, scale", What.CONFIRM),
        ("left brake line, surface rust", What.CONFIRM),
        ("left sill, hole", What.CONFIRM),
        ("left sill, soft", What.CONFIRM),
        ("fuel tank, leak", What.CONFIRM),
        ("left wheel arch, unsafe surface rust", What.CONFIRM),
        ("left sill, surface rust", None),
        ("left sill, solid, no rust", None),
        ("left rear rail, photo", None),
        ("kettle is on", None),
    ],
)
def test_a_doubtful_entry_is_asked_about_where_it_matters(
    live: _Live, words: str, what: What | None
) -> None:
    """Metal that carries, sheet that has to crush, lines; elsewhere only a grave fault."""
    assert _what(live.mumble(words)) is what


@pytest.mark.parametrize("words", ["left rear rail, hole", "left shock mount, crack"])
def test_a_clear_entry_is_never_asked_about(live: _Live, words: str) -> None:
    """There is nothing to ask."""
    turn = live.say(words)
    assert (turn.asked, turn.answered, live.dialogue.question) == (None, "", None)


@pytest.mark.parametrize(
    ("words", "slot", "options"),
    [
        ("cab mount, scale", "side", ("left", "right")),
        ("cab mount, photo", "side", ("left", "right")),
        ("driver side sill, scale", "side", ("left", "right")),
        ("left rail, hole", "zone", ("front-rail", "mid-rail", "rear-rail")),
        ("hanger, crack", "zone", ("front-spring-hanger", "rear-spring-hanger")),
        ("left sill inside, scale", "face", ("interior", "inboard")),
    ],
)
def test_a_question_of_its_own_is_asked_anywhere(
    live: _Live, words: str, slot: str, options: tuple[str, ...]
) -> None:
    """What batch leaves as a question is asked live, with its options."""
    asked = live.say(words).asked
    assert asked == Ask(What.SLOT, live.last.id, slot=slot, options=options)
    assert live.dialogue.question == asked


def test_its_own_question_comes_before_whether_it_is_right(live: _Live) -> None:
    """Once the side is known, the doubt about the words is next."""
    assert _what(live.mumble("shock mount, crack")) is What.SLOT
    turn = live.say("left")
    assert (turn.answered, _what(turn)) == ("answered", What.CONFIRM)
    assert _what(live.say("affirm")) is None
    assert (live.last.doubtful, live.last.slots["side"]) == (False, "left")


def test_of_several_the_one_that_matters_comes_first_and_the_others_follow(live: _Live) -> None:
    """One question at a time: the hanger before the cab mount, though it was said later."""
    turn = live.say("cab mount, scale, next item, hanger, crack")
    mount, hanger = live.entries
    assert turn.asked is not None
    assert turn.asked.about == hanger
    turn = live.say("the rear one")
    assert turn.asked == Ask(What.SLOT, hanger, slot="side", options=("left", "right"))
    turn = live.say("right side")
    assert turn.asked == Ask(What.SLOT, mount, slot="side", options=("left", "right"))
    assert live.say("left").asked is None
    assert [entry.slots["side"] for entry in live.entries.values()] == ["left", "right"]


def test_a_new_question_takes_the_place_of_the_old(live: _Live) -> None:
    """The first entry stays as doubtful as it was."""
    live.say("cab mount, scale")
    first = live.last.id
    turn = live.say("bed mount, hole")
    assert turn.answered == "lapsed"
    assert turn.asked is not None
    assert turn.asked.about == live.last.id
    live.say("left")
    assert live.entries[first].doubtful
    assert "side" not in live.entries[first].slots


def test_a_late_measure_of_what_was_asked_is_asked_with_it(live: _Live) -> None:
    """It changed the entry, which is still in doubt."""
    live.mumble("left rear rail, hole")
    turn = live.say("about thirty millimetres")
    assert (turn.answered, _what(turn)) == ("answered", What.CONFIRM)


@pytest.mark.parametrize(("after_s", "in_time"), [(8.0, True), (8.1, False)])
def test_a_question_waits_for_its_seconds(live: _Live, after_s: float, in_time: bool) -> None:
    """Later it has lapsed, and *affirm* is refused with the reason."""
    live.mumble("left rear rail, hole")
    turn = live.say("affirm", after_s=after_s)
    assert live.last.doubtful is not in_time
    assert turn.answered == ("affirm" if in_time else "lapsed")
    assert ("lapsed" in turn.refused) is not in_time


def test_an_answer_begun_in_time_counts(live: _Live) -> None:
    """Whoever starts to speak at the last moment is let finish."""
    live.mumble("left rear rail, hole")
    assert live.say("affirm", after_s=7.5, lasts_s=1.5).answered == "affirm"


def test_the_time_begins_when_the_question_was_said(live: _Live) -> None:
    """The voice takes a while, and nobody answers before its end."""
    live.mumble("left rear rail, hole")
    live.dialogue.spoken(live.at_s + 4.0)
    assert live.say("affirm", after_s=11.0).answered == "affirm"


def test_a_timer_closes_the_question(live: _Live) -> None:
    """It is told so once, and the entry stays doubtful."""
    live.mumble("left rear rail, hole")
    assert not live.dialogue.lapse(live.at_s + 8.0)
    assert live.dialogue.lapse(live.at_s + 8.5)
    assert not live.dialogue.lapse(live.at_s + 9.0)
    assert (live.dialogue.question, live.last.doubtful) == (None, True)
    assert live.say("affirm").refused


@pytest.mark.parametrize("words", ["kettle is on", "say again", "read back"])
def test_talk_beside_it_leaves_a_question_open(live: _Live, words: str) -> None:
    """Somebody else in the bay, or the inspector who wants to hear it again."""
    live.mumble("left rear rail, hole")
    turn = live.say(words, after_s=1.0)
    assert (turn.answered, turn.asked) == ("", None)
    assert live.say("affirm", after_s=1.0).answered == "affirm"


@pytest.mark.parametrize("words", ["right front rail", "right sill, scale", "stand by"])
def test_going_on_gives_the_question_up(live: _Live, words: str) -> None:
    """What is said counts for itself, the entry stays doubtful."""
    live.mumble("left rear rail, hole")
    first = live.last.id
    turn = live.say(words)
    assert (turn.answered, live.dialogue.question) == ("lapsed", None)
    assert live.entries[first].doubtful


def test_nothing_is_asked_into_stand_by(live: _Live) -> None:
    """Nobody may answer there: nothing would be kept."""
    turn = live.say("cab mount, scale, stand by")
    assert (turn.standing_by, turn.asked, len(turn.changes)) == (True, None, 1)


@pytest.mark.parametrize("word", ["affirm", "negative"])
def test_an_answer_without_a_question_is_refused(live: _Live, word: str) -> None:
    """Nothing is changed, and the reason is a sentence."""
    live.say("left sill, scale")
    turn = live.say(word)
    assert (turn.changes, turn.refused) == ((), "no question is open")


def test_nothing_is_asked_of_a_recording(stage: Any) -> None:
    """It cannot answer; *affirm* and *negative* pass without a word."""
    played = stage.play(["cab mount, scale", "affirm", "negative", "left", "finish inspection"])
    assert [(t.asked, t.answered, t.refused) for t in played.turns] == [(None, "", "")] * 5
    assert [turn.finished for turn in played.turns] == [False] * 4 + [True]
    assert [entry.kind for entry in played.entries] == [Kind.FINDING]


def test_a_turn_tells_where_the_inspector_is(live: _Live) -> None:
    """After every utterance, a place alone included; the place of a withdrawn entry too."""
    assert live.say("kettle is on").place == {}
    assert live.say("left rear rail").place == {"zone": "rear-rail", "side": "left"}
    assert live.say("right side, scale").place == {"zone": "rear-rail", "side": "right"}
    live.say("stand by")
    assert live.say("left sill").place == {"zone": "rear-rail", "side": "right"}
