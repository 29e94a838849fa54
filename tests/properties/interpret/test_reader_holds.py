"""What holds for every reading: it ends in time, repeats itself, and can be taken back."""

from __future__ import annotations

import time
from collections.abc import Sequence
from functools import cache

from hypothesis import Phase, assume, example, given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.dialogue.dialogue import Dialogue
from voicelog.domain.entry import Kind
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.reading import Reading
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import Ledger
from voicelog.interpret.reader import Reader

LONGEST = 5000
"""Characters: twenty seconds, the longest utterance there is, hold some 400."""
ALWAYS_S, A_WORD_S = 0.25, 0.0005
"""Seconds that any text may take, and each of its words on top, for one hypothesis. Measured on one
busy core: under 0.01 s for the 30 words of a long sentence, 0.6 s for 2500 figures in a row, which
is the slowest text found: twice that leaves room, and anything worse than linear breaks it."""


UNSHRUNK = (Phase.explicit, Phase.reuse, Phase.generate)
"""Where one more try takes seconds, a failure is told as it was found."""


@cache
def _shipped() -> Grammar:
    return load_grammar()


@cache
def _reader() -> Reader:
    """A reader whose index for odd words is built, so that no example pays for it."""
    reader = _fresh()
    reader.read(Heard.typed("lft slil, roost"))
    return reader


def _fresh() -> Reader:
    return Reader(_shipped().vocabulary, _shipped().zone_map)


@cache
def _phrases() -> tuple[str, ...]:
    numbers = ("ten", "three eighths", "half", "two point five", "percent", "7", ",", "rain", "rst")
    return (*sorted(set(_shipped().vocabulary.spoken())), *(numbers * 200))


def _said(numbers: Sequence[int]) -> str:
    return " ".join(_phrases()[number % len(_phrases())] for number in numbers)


drawn = st.integers(0, 2**20)
sentences = st.lists(drawn, min_size=1, max_size=7).map(_said)
ramblings = st.lists(drawn, min_size=100, max_size=600).map(_said)
repeated = st.builds(
    lambda text, times: text * times,
    st.one_of(
        st.text(min_size=1, max_size=12),
        st.sampled_from(["7 ", "a ", "x, ", "no ", "one ", "1/2 ", "it is "]),
        sentences.map(lambda text: f"{text} "),
    ),
    st.integers(1, LONGEST),
)
anything = st.one_of(st.text(max_size=LONGEST), repeated, ramblings).map(lambda t: t[:LONGEST])


def _in_time(*heard: Heard) -> Reading:
    """The reading; fails when it took longer than so many words may."""
    reader = _reader()
    texts = [hypothesis.text for one in heard for hypothesis in one.hypotheses]
    most = ALWAYS_S + sum(ALWAYS_S + A_WORD_S * _words(text) for text in texts)
    start = time.process_time()
    reading = reader.read(*heard)
    assert time.process_time() - start < most
    return reading


def _words(text: str) -> int:
    """Words at most: whatever is no letter or figure may part two of them."""
    return len("".join(each if each.isalnum() else " " for each in text).split())


@settings(deadline=None, max_examples=40, phases=UNSHRUNK)
@given(text=anything)
@example(text="7 " * (LONGEST // 2))
@example(text="rain seal rest " * (LONGEST // 15))
def test_any_text_is_read_in_time(text: str) -> None:
    """Up to five thousand characters of any script, of the trade's own words, or one word over
    and over: at least one statement.
    """
    assert _in_time(Heard.typed(text)).statements


@settings(deadline=None, max_examples=15, phases=UNSHRUNK)
@given(ears=st.lists(st.lists(st.one_of(anything, sentences), max_size=3), max_size=2))
def test_any_hypotheses_of_any_ears_are_read_in_time(ears: list[list[str]]) -> None:
    """None at all, ears that heard nothing, and ears that contradict each other."""
    heard = [
        Heard(tuple(Hypothesis(text, -float(at)) for at, text in enumerate(texts)), engine=f"e{n}")
        for n, texts in enumerate(ears)
    ]
    reading = _in_time(*heard)
    assert reading.statements
    assert 0.0 <= reading.score <= 1.0
    assert reading.margin <= 1.0


@settings(deadline=None, max_examples=60)
@given(text=sentences)
def test_the_same_hypothesis_again_changes_nothing(text: str) -> None:
    """An ear that is sure lists one text twice, or two ears agree: no other reading, no doubt."""
    once = Hypothesis(text, -1.0)
    alone = _reader().read(Heard((once,), engine="a"))
    assert _reader().read(Heard((once, once), engine="a")).statements == alone.statements
    ears = Heard((once,), engine="a"), Heard((once,), engine="b")
    assert _reader().read(*ears).statements == alone.statements


@settings(deadline=None, max_examples=3, phases=UNSHRUNK)
@given(texts=st.lists(st.one_of(sentences, st.text(max_size=60)), min_size=10, max_size=20))
def test_a_reader_remembers_nothing(texts: list[str]) -> None:
    """Two fresh readers, one from the first text to the last, the other backwards and twice."""
    one, other = _fresh(), _fresh()
    forwards = [one.read(Heard.typed(text)) for text in texts]
    for _ in range(2):
        backwards = [other.read(Heard.typed(text)) for text in reversed(texts)]
        assert backwards[::-1] == forwards


@cache
def _faults() -> tuple[str, ...]:
    phrases = _shipped().vocabulary.phrases
    return tuple(p.text for p in phrases if p.slot == "condition" and not p.misheard)


@settings(deadline=None, max_examples=60)
@given(side=st.sampled_from(["left", "right"]), place=drawn, fault=drawn)
def test_what_is_disregarded_is_gone(side: str, place: int, fault: int) -> None:
    """Whatever single entry a sentence made, *disregard* leaves none."""
    grammar = _shipped()
    names = [name for zone in grammar.zone_map.zones.values() for name in zone.say]
    faults = _faults()
    sentence = f"{side} {names[place % len(names)]}, {faults[fault % len(faults)]}"
    dialogue = Dialogue(grammar.zone_map)
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
    live = []
    for number, text in enumerate((sentence, "disregard"), start=2):
        reading = _reader().read(Heard.typed(text))
        at = "2026-03-14T08:05:30.000Z"
        turn = dialogue.take(reading, utterance=f"u{number}", at=at, at_s=3.0 * number)
        ledger.apply(turn.changes)
        kinds = [found.entry.kind for found in ledger.inspection().live]
        live.append([kind for kind in kinds if kind is not Kind.REMARK])
    assume(len(live[0]) == 1)
    assert live[1] == []
