"""The sentences of a warm-up: each makes an entry, few hold much, the same seed gives the same."""

from __future__ import annotations

from dataclasses import replace

import pytest

from voicelog.config.cache import checked_grammar
from voicelog.config.data import grammar_dir
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act
from voicelog.errors import InputFault
from voicelog.interpret.reader import Reader
from voicelog.runtime.warm_up_prompts import Prompt, choose_prompts, prompts_of, sense_of


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped one."""
    return checked_grammar(Settings())


@pytest.fixture(scope="module")
def reader(grammar: Grammar) -> Reader:
    """Of the shipped grammar."""
    return Reader(grammar.vocabulary, grammar.zone_map)


@pytest.fixture(scope="module")
def chosen(grammar: Grammar, reader: Reader) -> tuple[Prompt, ...]:
    """One round."""
    return choose_prompts(grammar, reader)


def _slots(prompts: tuple[Prompt, ...], name: str) -> list[object]:
    return [p.wanted[0].slots[name] for p in prompts if name in p.wanted[0].slots]


def _words(prompts: tuple[Prompt, ...]) -> set[str]:
    return {word for prompt in prompts for word in prompt.text.replace(",", "").split()}


def test_each_makes_one_entry_without_doubt(chosen: tuple[Prompt, ...], reader: Reader) -> None:
    """A sentence that is in doubt when typed could not show what the ear did to it."""
    assert len(chosen) == 24
    for prompt in chosen:
        reading = reader.read(Heard.typed(prompt.text))
        (made,) = reading.statements
        assert made.act is Act.REPORT
        assert not made.doubts
        assert not made.questions
        assert {"zone", "condition"} <= made.slots.keys()
        assert sense_of(reading) == prompt.wanted


def test_they_cover_the_map_and_the_trade(chosen: tuple[Prompt, ...]) -> None:
    """Two dozen places, nearly as many faults, both sides, probes, lengths and shares."""
    assert len(set(_slots(chosen, "zone"))) >= 20
    assert len(set(_slots(chosen, "condition"))) >= 18
    sides = _slots(chosen, "side")
    assert min(sides.count("left"), sides.count("right")) >= 5
    assert len(_slots(chosen, "probe")) >= 5
    assert len([*_slots(chosen, "size_mm"), *_slots(chosen, "depth_mm")]) >= 3
    assert len(_slots(chosen, "area_percent")) >= 2


def test_few_sentences_hold_many_words(chosen: tuple[Prompt, ...]) -> None:
    """Four new words a sentence, and most of those that ears are known to confuse."""
    assert len(_words(chosen)) >= 90
    confused = {"rust", "brake", "weld", "sill", "arm", "hole", "seam", "floor", "patch", "rear"}
    assert len(_words(chosen) & confused) >= 8


def test_they_are_short(chosen: tuple[Prompt, ...]) -> None:
    """Read at a glance, and said in one breath."""
    assert max(len(prompt.text.split()) for prompt in chosen) <= 10


def test_a_seed_gives_the_same_again(grammar: Grammar, reader: Reader) -> None:
    """Two warm-ups can be compared; another seed gives others."""
    first = choose_prompts(grammar, reader, count=6, seed=3)
    assert choose_prompts(grammar, reader, count=6, seed=3) == first
    assert choose_prompts(grammar, reader, count=6, seed=4) != first


def test_more_rounds_bring_new_sentences(grammar: Grammar, reader: Reader) -> None:
    """No sentence twice, and the first round is the same."""
    many = choose_prompts(grammar, reader, count=48)
    assert len({prompt.text for prompt in many}) == 48
    assert many[:24] == choose_prompts(grammar, reader)


def test_a_shop_s_confusions_come_sooner(grammar: Grammar, reader: Reader) -> None:
    """A word that is known to be confused weighs twice as much."""
    known = replace(grammar, confusions={"bulkhead": ("bull head",)})
    unknown = replace(grammar, confusions={})

    def place(of: Grammar) -> int:
        texts = [prompt.text for prompt in choose_prompts(of, reader, count=48)]
        return next(n for n, text in enumerate(texts) if "bulkhead" in text)

    assert place(known) < place(unknown)


def test_another_language_has_sentences_of_its_own() -> None:
    """They are made of the words of that grammar, numbers included."""
    grammar = checked_grammar(Settings(grammar=grammar_dir() / "de"))
    german = choose_prompts(grammar, Reader(grammar.vocabulary, grammar.zone_map))
    assert len(german) == 24
    assert any(word in " ".join(p.text for p in german) for word in ("millimeter", "prozent"))
    assert not {"rust", "left", "right", "percent"} & _words(german)


def test_own_sentences_read_as_they_are(reader: Reader) -> None:
    """What each says when every word is heard is what the ear is judged by."""
    first, second = prompts_of(["left sill, hole", "left sill is clean"], reader)
    assert first.wanted[0].slots["condition"] == "hole"
    assert second.wanted[0].clear


def test_a_sentence_that_says_nothing_is_refused(reader: Reader) -> None:
    """Nobody could tell whether it was understood."""
    with pytest.raises(InputFault, match="makes no entry"):
        prompts_of(["left sill, hole", "put the kettle on"], reader)
