"""What keys do, in spoken words: a key says for a person what they could have said themselves."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.domain.reading import Vocabulary
from voicelog.runtime.messages import Action

_SPOKEN = (
    Action.AFFIRM, Action.NEGATIVE, Action.SAY_AGAIN, Action.READ_BACK, Action.WHAT_IS_OPEN,
    Action.DISREGARD, Action.STAND_BY, Action.GO_AHEAD, Action.PHOTO, Action.FINISH,
)  # fmt: skip


def words_of(action: Action, vocabulary: Vocabulary) -> str:
    """The words of the grammar in force that ask for it; empty where none do (the pedal, talk)."""
    if action is Action.GO_AHEAD:
        return resume_phrase(vocabulary)
    return _first(vocabulary, "act", str(action)) if action in _SPOKEN else ""


def spoken_words(vocabulary: Vocabulary) -> Mapping[Action, str]:
    """The words of the grammar in force for every action that has some."""
    words = {action: words_of(action, vocabulary) for action in Action}
    return {action: text for action, text in words.items() if text}


def resume_phrase(vocabulary: Vocabulary) -> str:
    """What ends standing by."""
    attention = _first(vocabulary, "attention", "attention") or "logbook"
    return f"{attention}, {_first(vocabulary, 'act', 'go-ahead') or 'go ahead'}"


def _first(vocabulary: Vocabulary, slot: str, value: str) -> str:
    said = (p.text for p in vocabulary.phrases if (p.slot, p.value) == (slot, value))
    return next(said, "")
