"""The kinds of slip, one by one."""

from __future__ import annotations

import random

import pytest
from mishearings import (
    common_words,
    confusions,
    digit_slip,
    ending,
    general_slip,
    near,
    near_words,
    split,
    table_slip,
    vowel,
)


@pytest.fixture
def rng() -> random.Random:
    """Chance that falls the same way each time."""
    return random.Random("slips")


def test_near_words_go_by_letters() -> None:
    """The neighbours of "member" are common words like it, never itself, the nearest likeliest."""
    near_by = dict(near_words("number"))
    assert "number" not in near_by
    assert set(near_by) <= set(common_words())
    assert near_words("roost")[0][1] >= near_words("roost")[-1][1]


def test_a_number_run_is_written_in_digits() -> None:
    """The longest run counts: thirty five is 35, not 30 and five."""
    words = ("about", "thirty", "five", "millimetres")
    assert digit_slip(words, 1) == (2, ("35",))
    assert digit_slip(words, 0) is None
    assert digit_slip(("five",), 0) == (1, ("5",))


def test_the_table_takes_names_of_several_words(rng: random.Random) -> None:
    """A table slip takes as many words as its entry and hears what the entry lists."""
    words = ("rear", "cross", "member")
    span, heard = table_slip(words, 1, rng) or (0, ())
    assert span == 2
    assert " ".join(heard) in confusions()["cross", "member"]
    assert table_slip(("about",), 0, rng) is None


def test_endings_get_lost_or_grow(rng: random.Random) -> None:
    """Plurals and past tenses lose their last sound, other words may gain one."""
    assert ending("bolts", rng) == ("bolt",)
    assert ending("cracked", rng) == ("crack",)
    assert ending("bracket", rng) == ("brackets",)


def test_a_vowel_shifts_to_a_common_word(rng: random.Random) -> None:
    """Only one vowel differs where a common word allows it."""
    assert vowel("rist", rng) in {("rest",)}
    assert vowel("xyz", rng)[0] in common_words()


def test_long_words_split_in_two(rng: random.Random) -> None:
    """Only long ones."""
    assert len(split("crossmember", rng)) == 2
    assert len(split("rust", rng)) == 1


def test_a_general_slip_changes_the_word(rng: random.Random) -> None:
    """No general slip hears the word as it was."""
    words = ("the", "bracket", "is", "loose")
    for _ in range(300):
        span, heard = general_slip(words, rng.randrange(4), rng)
        assert span in (1, 2)
        assert heard not in {(word,) for word in words}


def test_no_confusion_hears_what_was_said() -> None:
    """A table entry that changes nothing would be no error."""
    assert not [said for said, heard in confusions().items() if " ".join(said) in heard]


def test_a_near_word_is_another_word(rng: random.Random) -> None:
    """Nearness never gives the word back."""
    assert all(near(word, rng) != (word,) for word in ("left", "rust", "solid", "hanger"))
