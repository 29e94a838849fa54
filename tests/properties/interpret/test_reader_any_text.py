"""Whatever is said, something is made of it, and what is printed keeps to the contract."""

from __future__ import annotations

import random
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.dialogue.dialogue import Dialogue
from voicelog.domain.heard import Heard
from voicelog.domain.zone import Rails
from voicelog.export.answer import answer
from voicelog.export.contract import validate
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader

PAUSES_S = (0.5, 4.0, 8.0, 60.0)
"""Within and beyond the seconds in which places complete and carry."""


@cache
def _shipped() -> tuple[Grammar, Reader, tuple[str, ...]]:
    """Grammar, reader and phrases, loaded once: none of them changes."""
    grammar = load_grammar()
    phrases = tuple(sorted(set(grammar.vocabulary.spoken())))
    return grammar, Reader(grammar.vocabulary, grammar.zone_map), phrases


def _words(seed: int) -> str:
    """Up to six phrases of the grammar in any order, numbers and commas among them."""
    chance = random.Random(seed)
    _, _, phrases = _shipped()
    numbers = ("ten", "three eighths", "half", "two point five", "percent", "inches", ",")
    return " ".join(
        chance.choice(numbers if chance.random() < 0.2 else phrases)
        for _ in range(chance.randint(1, 6))
    )


@settings(deadline=None, max_examples=150)
@given(text=st.text(max_size=200))
def test_any_text_is_read(text: str) -> None:
    """Any script, any control character: at least one statement, a score between 0 and 1."""
    reading = _shipped()[1].read(Heard.typed(text))
    assert reading.statements
    assert 0.0 <= reading.score <= 1.0


@settings(deadline=None, max_examples=60)
@given(seeds=st.lists(st.integers(0, 2**32), min_size=1, max_size=5))
def test_any_words_give_a_valid_answer(seeds: list[int]) -> None:
    """Any sequence of the grammar's own phrases leads to an answer that fits the contract."""
    grammar, reader, _ = _shipped()
    dialogue = Dialogue(grammar.zone_map)
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
    at_s = 0.0
    for number, seed in enumerate(seeds, start=2):
        at_s += PAUSES_S[seed % len(PAUSES_S)]
        reading = reader.read(Heard.typed(_words(seed)))
        turn = dialogue.take(
            reading, utterance=f"u{number}", at="2026-03-14T08:05:30.000Z", at_s=at_s
        )
        assert reading.statements
        ledger.apply(turn.changes)
    validate(answer(ledger.inspection()), "answer")


def test_a_very_long_text_is_read() -> None:
    """Three hundred words without a stop come to an end as well."""
    chance = " ".join(_words(seed) for seed in range(90)).split()[:300]
    assert _shipped()[1].read(Heard.typed(" ".join(chance))).statements
