"""Everyday words, which alone teach nothing."""

from __future__ import annotations

import pytest

from voicelog.interpret.everyday import DATA, is_everyday


@pytest.mark.parametrize("word", ["hold", "holds", "rest", "four", "rain", "track", "form"])
def test_one_word_of_any_talk_is_everyday(word: str) -> None:
    """Whatever its ending."""
    assert is_everyday([word])


@pytest.mark.parametrize("words", ["seal", "zill", "front rain", "hold on", ""])
def test_a_rare_word_or_several_are_not(words: str) -> None:
    """Two everyday words beside each other are no everyday phrase."""
    assert not is_everyday(words.split())


def test_each_stands_once_and_in_its_line() -> None:
    """A line a letter, in small letters, so that a person finds and adds one."""
    lines = [line.split() for line in DATA.read_text().splitlines() if not line.startswith("#")]
    words = [word for line in lines for word in line]
    assert len(words) == len(set(words))
    assert all(word.isalpha() and word.islower() for word in words)
    assert [{word[0] for word in line} for line in lines] == [{line[0][0]} for line in lines]


def test_parts_of_a_frame_are_none() -> None:
    """The words of the trade's own places and faults may be heard for one another."""
    named = {"sill", "seal", "outrigger", "gusset", "hanger", "rust", "pitting", "seam", "weld"}
    assert not [word for word in named if is_everyday([word])]
