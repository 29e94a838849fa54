"""What the ear is told to expect: the end of stand-by, the answers of a question, a place carried."""

from __future__ import annotations

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.dialogue import Turn
from voicelog.domain.reading import Act
from voicelog.recognise.port import ANYTHING, Expected
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.expecting import expected
from voicelog.runtime.session import Session

TURN = Turn((), Act.REPORT)


class Noted(TypedEar):
    """A typed ear that keeps what it was told."""

    def __init__(self) -> None:
        super().__init__()
        self.told = ANYTHING

    def expect(self, expected: Expected) -> None:
        """Keep it."""
        self.told = expected


def test_in_stand_by_only_its_end_is_of_interest(shipped_grammar: Grammar) -> None:
    """The attention word with each way to go on, and nothing of the trade."""
    told = expected(shipped_grammar.vocabulary, Turn((), Act.STAND_BY, standing_by=True), None)
    assert "logbook go ahead" in told.only
    assert all(phrase.startswith(("logbook", "log book")) for phrase in told.only)


def test_a_question_makes_its_answers_likely(shipped_grammar: Grammar) -> None:
    """Options of a slot by all their names; else affirm and negative."""
    side = Ask(What.SLOT, "e1.1", slot="side", options=("left", "right"))
    options = expected(shipped_grammar.vocabulary, TURN, side).likely
    assert {"left", "right"} <= set(options)
    assert not {"affirm", "hole"} & set(options)
    answers = expected(shipped_grammar.vocabulary, TURN, Ask(What.CONFIRM, "e1.1")).likely
    assert {"affirm", "negative"} <= set(answers)


def test_nothing_is_expected_of_a_new_inspection(shipped_grammar: Grammar) -> None:
    """No place, no question."""
    assert expected(shipped_grammar.vocabulary, TURN, None) == ANYTHING


def test_a_session_tells_its_ear(shipped_grammar: Grammar) -> None:
    """A place named, stand-by, and after it everything again."""
    ear = Noted()
    session = Session(Settings(), shipped_grammar, ear=ear)
    session.read("left front rail, surface rust", at_s=1.0)
    assert ear.told == Expected(placed=True)
    session.read("stand by", at_s=3.0)
    assert ear.told.only
    session.read("logbook go ahead", at_s=6.0)
    assert not ear.told.only
