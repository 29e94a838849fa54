"""Spelled numbers: checked, asked about, affirmed, put right; never repaired."""

from __future__ import annotations

import pytest

from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Add, Amend, Entry, Kind
from voicelog.domain.reading import Act, Reading, Statement

GOOD, HEARD = "1M8GDM9AXKP042788", "1M8GDM5AXKP042788"


def _spelt(text: str, slot: str = "vin", act: Act = Act.REMARK) -> Statement:
    return Statement(act, {slot: text} if text else {}, f"i spell {text}", tags=("spelt", slot))


class _Talk:
    """A dialogue that takes statements one utterance at a time."""

    def __init__(self, dialogue: Dialogue) -> None:
        self._dialogue, self._seq = dialogue, 1

    def say(self, *statements: Statement) -> Turn:
        self._seq += 1
        reading = Reading(statements, "")
        at = "2026-03-14T08:05:30.000Z"
        return self._dialogue.take(reading, utterance=f"u{self._seq}", at=at, at_s=self._seq * 3.0)


@pytest.fixture
def talk(dialogue: Dialogue) -> _Talk:
    """Nothing was said yet."""
    return _Talk(dialogue)


def _added(turn: Turn) -> Entry:
    (change,) = turn.changes
    assert isinstance(change, Add)
    return change.entry


def _amended(turn: Turn) -> Amend:
    (change,) = turn.changes
    assert isinstance(change, Amend)
    return change


def test_a_number_that_checks_is_a_tagged_remark(talk: _Talk) -> None:
    """Nothing is asked."""
    entry = _added(talk.say(_spelt(GOOD)))
    assert (entry.kind, entry.slots, entry.tags) == (Kind.REMARK, {"vin": GOOD}, ("spelt", "vin"))
    assert (entry.doubtful, entry.questions) == (False, ())


def test_a_failed_check_is_kept_as_heard_and_asked(talk: _Talk) -> None:
    """Likely readings first, what was heard last; the doubt says where check digits are not used."""
    entry = _added(talk.say(_spelt(HEARD)))
    assert entry.slots == {"vin": HEARD}
    (question,) = entry.questions
    assert question.slot == "vin"
    assert (question.options[0], question.options[-1]) == (GOOD, HEARD)
    assert "outside North America" in entry.doubts[0]


@pytest.mark.parametrize(
    ("text", "doubt"),
    [("1M8GDM9AXKPO42788", "I, O and Q are not used"), (GOOD[:-1], "16 characters instead of 17")],
)
def test_what_can_be_no_number_is_in_doubt(talk: _Talk, text: str, doubt: str) -> None:
    """A letter that no number holds, a character too few: as heard, with the reason."""
    entry = _added(talk.say(_spelt(text)))
    assert entry.slots == {"vin": text}
    assert doubt in entry.doubts[0]
    assert "outside North America" not in entry.doubts[0]


@pytest.mark.parametrize("slot", ["plate", "paint_code", "spelt"])
def test_nothing_else_has_a_check(talk: _Talk, slot: str) -> None:
    """A plate of any length and letters stands as it was spelled."""
    assert not _added(talk.say(_spelt("OIQ", slot))).doubtful


def test_affirm_settles_the_doubt_and_keeps_the_number(talk: _Talk) -> None:
    """What was heard was right: outside North America it may be."""
    asked = _added(talk.say(_spelt(HEARD)))
    change = _amended(talk.say(Statement(Act.AFFIRM)))
    assert (change.entry, change.set, change.why) == (asked.id, {"vin": HEARD}, "affirm")
    assert change.doubts == ()
    assert talk.say(Statement(Act.AFFIRM)).changes == ()


def test_affirm_after_something_else_answers_nothing(talk: _Talk) -> None:
    """The question was about the last thing said."""
    talk.say(_spelt(HEARD))
    talk.say(Statement(Act.REMARK, text="kettle is on"))
    assert talk.say(Statement(Act.AFFIRM)).changes == ()


def test_negative_leaves_it_in_doubt(talk: _Talk) -> None:
    """Only spelling it again tells what it is."""
    talk.say(_spelt(HEARD))
    assert talk.say(Statement(Act.NEGATIVE)).changes == ()


def test_a_correction_replaces_the_newest_of_its_kind_and_checks_again(talk: _Talk) -> None:
    """Unnamed, it means the newest spelled; named, the newest of that name."""
    vin = _added(talk.say(_spelt(HEARD)))
    plate = _added(talk.say(_spelt("AB12", "plate")))
    change = _amended(talk.say(_spelt("AB13", "spelt", Act.CORRECTION)))
    assert (change.entry, change.set) == (plate.id, {"plate": "AB13"})
    change = _amended(talk.say(_spelt(GOOD, act=Act.CORRECTION)))
    assert (change.entry, change.set, change.doubts) == (vin.id, {"vin": GOOD}, ())
    change = _amended(talk.say(_spelt(HEARD, act=Act.CORRECTION)))
    assert change.doubts
    assert change.questions is not None
    assert change.questions[0].options[0] == GOOD
    assert _amended(talk.say(Statement(Act.AFFIRM))).set == {"vin": HEARD}


def test_a_correction_of_nothing_is_kept_by_itself(talk: _Talk) -> None:
    """Nothing that was spelled is lost."""
    assert _added(talk.say(_spelt("AB12", "plate", Act.CORRECTION))).slots == {"plate": "AB12"}


def test_a_correction_without_a_character_is_refused(talk: _Talk) -> None:
    """What stood before still stands."""
    talk.say(_spelt("AB12", "plate"))
    turn = talk.say(_spelt("", "spelt", Act.CORRECTION))
    assert turn.changes == ()
    assert "spell it again" in turn.refused


def test_a_disregard_never_takes_back_what_was_spelled(talk: _Talk) -> None:
    """It is a remark."""
    talk.say(_spelt(GOOD))
    turn = talk.say(Statement(Act.DISREGARD))
    assert (turn.changes, bool(turn.refused)) == ((), True)
