"""The attention word as a setting: it takes the place of the grammar's own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from voicelog.config.grammar import grammar_in_force
from voicelog.config.settings import Settings
from voicelog.errors import GrammarFault


def attention_words(settings: Settings) -> list[str]:
    """The spoken words that end stand-by."""
    phrases = grammar_in_force(settings).vocabulary.phrases
    return [p.text for p in phrases if p.slot == "attention" and not p.misheard]


def test_unless_changed_it_is_the_grammars_own() -> None:
    """The words of the shipped file, not only the one that the setting names."""
    assert attention_words(Settings()) == ["logbook", "log book"]


def test_a_word_of_ones_own_replaces_it() -> None:
    """Only that word is heard in stand-by then, in small letters like any phrase."""
    assert attention_words(replace(Settings(), attention="Clip Board")) == ["clip board"]


@pytest.mark.parametrize("word", ["rust", "one two three four five six seven eight nine", "!"])
def test_a_word_that_means_something_or_nothing_is_refused(word: str) -> None:
    """It would otherwise swallow a finding, or never be heard."""
    with pytest.raises(GrammarFault, match="in your settings"):
        grammar_in_force(replace(Settings(), attention=word))
