"""What a second ear heard, asked about in the dialogue: one question at a time, only *affirm* acts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.dialogue.ask import Ask, AskPolicy, What
from voicelog.dialogue.dialogue import Dialogue, Turn
from voicelog.domain.entry import Add, Entry, Replace
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The grammar as it ships."""
    return load_grammar()


@pytest.fixture(scope="module")
def reader(grammar: Grammar) -> Reader:
    """Of the shipped grammar."""
    return Reader(grammar.vocabulary, grammar.zone_map)


class _Talk:
    """A dialogue that hears typed words."""

    def __init__(self, grammar: Grammar, reader: Reader, *, asks: bool = True) -> None:
        self.dialogue = Dialogue(grammar.zone_map, asks=AskPolicy(8.0) if asks else None)
        self._reader, self._at_s = reader, 0.0

    def say(self, text: str) -> Turn:
        """One utterance, two seconds after the last."""
        self._at_s += 2.0
        return self.dialogue.take(
            self._reader.read(Heard.typed(text)), utterance=f"u{int(self._at_s)}",
            at="2026-01-01T00:00:00Z", at_s=self._at_s,
        )  # fmt: skip

    def offered(self, entry: Entry, *, side: str = "right") -> bool:
        """Another side of the entry is proposed."""
        other = replace(entry, slots={**entry.slots, "side": side})
        ask = Ask(What.SECOND, entry.id, instead=other.slots, changes=(Replace(other),))
        return self.dialogue.offer(ask, self._at_s)


def test_affirm_takes_it_over_and_goes_there(grammar: Grammar, reader: Reader) -> None:
    """What is said next without a place is said of the place that was affirmed."""
    talk = _Talk(grammar, reader)
    talk.say("left sill, surface rust")
    assert talk.offered(talk.dialogue.touched[0])
    turn = talk.say("affirm")
    assert (turn.answered, turn.place["side"]) == ("affirm", "right")
    assert isinstance(turn.changes[0], Replace)
    assert talk.dialogue.touched[0].slots["side"] == "right"


@pytest.mark.parametrize("then", ["negative", "front cross member, scale"])
def test_nothing_else_does(grammar: Grammar, reader: Reader, then: str) -> None:
    """The entry stays what it was; a no is no more than that."""
    talk = _Talk(grammar, reader)
    talk.say("left sill, surface rust")
    entry = talk.dialogue.touched[0]
    talk.offered(entry)
    turn = talk.say(then)
    assert turn.closed is not None
    assert talk.dialogue.question is None
    assert talk.dialogue.knows(entry)


def test_a_correction_is_the_better_answer(grammar: Grammar, reader: Reader) -> None:
    """Whoever puts the entry right has dealt with the question."""
    talk = _Talk(grammar, reader)
    talk.say("left sill, surface rust")
    talk.offered(talk.dialogue.touched[0])
    assert talk.say("correction, scale").answered == "answered"
    assert talk.dialogue.touched[0].slots["condition"] == "scale"


def test_a_late_affirm_is_refused_with_the_reason(grammar: Grammar, reader: Reader) -> None:
    """It would be anybody's guess what it was about."""
    talk = _Talk(grammar, reader)
    talk.say("left sill, surface rust")
    talk.offered(talk.dialogue.touched[0])
    assert talk.dialogue.lapse(60.0)
    assert "stays as it was heard first" in talk.say("affirm").refused


def test_another_question_is_never_talked_over(grammar: Grammar, reader: Reader) -> None:
    """It is asked which side already; nothing is asked in stand-by, or where nobody answers."""
    talk = _Talk(grammar, reader)
    talk.say("cab mount, scale")
    entry = talk.dialogue.touched[0]
    assert not talk.offered(entry)
    assert talk.dialogue.question is not None
    assert talk.dialogue.question.what is What.SLOT
    talk.say("left")
    talk.say("stand by")
    assert not talk.offered(talk.dialogue.touched[0] if talk.dialogue.touched else entry)
    silent = _Talk(grammar, reader, asks=False)
    silent.say("left sill, surface rust")
    assert not silent.offered(silent.dialogue.touched[0])


def test_a_twin_goes_its_own_way(grammar: Grammar, reader: Reader) -> None:
    """What is only tried on a copy leaves no trace."""
    talk = _Talk(grammar, reader)
    talk.say("left sill, surface rust")
    entry, twin = talk.dialogue.touched[0], talk.dialogue.copy()
    twin.take(
        reader.read(Heard.typed("correction, right side")), utterance="u9",
        at="2026-01-01T00:00:00Z", at_s=3.0,
    )  # fmt: skip
    assert talk.dialogue.knows(entry)
    assert not twin.knows(entry)


@pytest.mark.parametrize("beside", ["say again", "kettle is on"])
def test_a_new_entry_waits_for_its_answer_too(
    grammar: Grammar, reader: Reader, beside: str
) -> None:
    """It is not there before it is affirmed, which does not mean that it was taken back."""
    talk = _Talk(grammar, reader)
    talk.say("left sill, surface rust")
    new = replace(talk.dialogue.touched[0], id="e2.2", slots={"zone": "sill", "side": "right"})
    assert talk.dialogue.offer(Ask(What.SECOND, new.id, changes=(Add(new),)), 2.0)
    assert talk.say(beside).closed is None
    assert talk.say("affirm").answered == "affirm"
    assert talk.dialogue.knows(new)
