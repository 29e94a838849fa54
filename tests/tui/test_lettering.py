"""Very large type: as large as it fits, never cut off, never wrong."""

from __future__ import annotations

import pytest

from voicelog.runtime.messages import State
from voicelog.tui.lettering import LONGEST, lettered
from voicelog.tui.looks import GRADES, LEAVING, STATES


def _size(text: str) -> tuple[int, int]:
    lines = text.split("\n")
    return max(map(len, lines)), len(lines)


@pytest.mark.parametrize("look", [*STATES.values(), LEAVING])
def test_every_state_is_five_rows_high_on_eighty_columns(look: object) -> None:
    """The smallest window still shows the state in block letters."""
    drawn = lettered(look.word, 80, 5)  # type: ignore[attr-defined]
    width, height = _size(drawn)
    assert height == 5
    assert width <= 80
    assert "█" in drawn


def test_on_a_wall_the_letters_are_twice_as_large() -> None:
    """The same word, ten rows high."""
    small, large = lettered("LISTENING", 80, 5), lettered("LISTENING", 198, 10)
    assert _size(large) == (2 * _size(small)[0], 10)


@pytest.mark.parametrize("grade", GRADES)
def test_every_grade_is_large_in_the_small_card(grade: str) -> None:
    """Three rows high, beside the lines of the card."""
    width, height = _size(lettered(GRADES[grade].word, 34, 3))
    assert (width <= 34, height) == (True, 3)


def test_words_that_do_not_fit_beside_each_other_go_on_the_next_row() -> None:
    """Words stay whole; rows of one line are equally long, so that they can be centred."""
    lines = lettered("left rear rail, hole. Affirm?", 70, 7).split("\n")
    assert len(lines) == 7
    assert not lines[3].strip()
    assert len({len(line) for line in lines[:3]}) == len({len(line) for line in lines[4:]}) == 1


@pytest.mark.parametrize(
    ("text", "width", "height"), [("LISTENING", 10, 5), ("LISTENING", 80, 1), ("日本", 80, 5)]
)
def test_what_cannot_be_drawn_is_written(text: str, width: int, height: int) -> None:
    """Too small a box, or letters that no font has."""
    assert lettered(text, width, height) == text


def test_nothing_is_drawn_of_nothing() -> None:
    """No words, no rows."""
    assert lettered("  ", 80, 5) == ""


def test_long_and_hostile_texts_are_cut_and_made_inert() -> None:
    """Ten million letters cost no more than the first few; escapes become question marks."""
    told = lettered("\x1b[31m" + "a" * 10_000_000, 80, 1)
    assert len(told) == LONGEST
    assert told.startswith("?[31M")


def test_states_differ_in_word_and_not_in_colour_alone() -> None:
    """Who cannot tell the colours reads the word; there are no two alike."""
    assert set(STATES) == set(State)
    words = [look.word for look in (*STATES.values(), LEAVING)]
    assert len(set(words)) == len(words)
