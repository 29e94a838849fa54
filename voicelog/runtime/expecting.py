"""What the ear may expect of the next utterance, from how the dialogue stands. Pure."""

from __future__ import annotations

from itertools import product

from voicelog.dialogue.ask import Ask, What
from voicelog.dialogue.dialogue import Turn
from voicelog.domain.reading import Act, Vocabulary
from voicelog.recognise.port import Expected

ANSWERS = (str(Act.AFFIRM), str(Act.NEGATIVE))
"""What answers a question that names no options."""


def expected(vocabulary: Vocabulary, turn: Turn, question: Ask | None) -> Expected:
    """In stand-by its end alone; else what answers the open question, and whether a place is known.

    Args:
        vocabulary: in force.
        turn: what the last utterance did.
        question: the one that is open now.
    """
    if turn.standing_by:
        attention = _said(vocabulary, "attention")
        on = _said(vocabulary, "act", (str(Act.GO_AHEAD),))
        return Expected(only=tuple(f"{one} {other}" for one, other in product(attention, on)))
    likely = _answers(vocabulary, question) if question is not None else ()
    return Expected(likely=likely, placed=bool(turn.place))


def _answers(vocabulary: Vocabulary, question: Ask) -> tuple[str, ...]:
    if question.what is What.SLOT:
        return _said(vocabulary, question.slot, question.options)
    return _said(vocabulary, "act", ANSWERS)


def _said(vocabulary: Vocabulary, slot: str, values: tuple[str, ...] = ()) -> tuple[str, ...]:
    """The spoken phrases of a slot, of all its values where none are named."""
    return tuple(
        phrase.text
        for phrase in vocabulary.phrases
        if phrase.slot == slot and not phrase.misheard and (not values or phrase.value in values)
    )
