"""When a reading is doubtful: signs are weighed, over a vocabulary of a few phrases."""

from __future__ import annotations

import pytest

from voicelog.domain.heard import Heard
from voicelog.domain.reading import Statement
from voicelog.interpret.reader import Reader


def _read(reader: Reader, text: str) -> Statement:
    (statement,) = reader.read(Heard.typed(text)).statements
    return statement


def test_what_was_said_in_the_very_words_is_sure(small_reader: Reader) -> None:
    """No sign, no doubt."""
    assert _read(small_reader, "left front rail, surface rust").doubts == ()


@pytest.mark.parametrize(
    ("text", "slot", "value"),
    [
        ("lift outrigger, scale", "side", "left"),
        ("left front rain, scale", "zone", "front-rail"),
        ("left outrigger, surface roast", "condition", "surface-rust"),
        ("gearbox crossed number, scale", "zone", "gearbox-cross-member"),
        ("left outrigger grommet, scale", "side", "left"),
    ],
)
def test_one_mild_sign_is_not_enough(
    small_reader: Reader, text: str, slot: str, value: str
) -> None:
    """One word taken by its sound, or one strange word behind the place, in a plain report."""
    statement = _read(small_reader, text)
    assert statement.slots[slot] == value
    assert statement.doubts == ()


@pytest.mark.parametrize(
    ("text", "doubts"),
    [
        (
            "lift front rain, scale",
            {'"front rain" was taken for front rail', '"lift" was taken for left'},
        ),
        (
            "left grommet outrigger, scale",
            {
                '"grommet" beside "left" was not understood',
                '"grommet" beside "outrigger" was not understood',
            },
        ),
        (
            "gearbox crossed number, skull",
            {
                '"gearbox crossed number" was taken for gearbox cross member',
                '"skull" was taken for scale',
            },
        ),
    ],
)
def test_two_mild_signs_are(small_reader: Reader, text: str, doubts: set[str]) -> None:
    """Each of them is told."""
    assert set(_read(small_reader, text).doubts) == doubts


@pytest.mark.parametrize(
    ("word", "condition"), [("skull", "scale"), ("hull", "hole"), ("pitten", "pitting")]
)
def test_a_fault_that_is_a_guess_is_enough_alone(
    small_reader: Reader, word: str, condition: str
) -> None:
    """It is the weightiest word, and the least like what it was taken for."""
    statement = _read(small_reader, f"left outrigger, {word}")
    assert statement.slots["condition"] == condition
    assert statement.doubts == (f'"{word}" was taken for {condition}',)


def test_a_strange_word_weighs_by_where_it_stands(small_reader: Reader) -> None:
    """Before a fault it may be any "rather"; behind it, what was said next may matter."""
    assert _read(small_reader, "left outrigger, grommet scale").doubts == ()
    assert _read(small_reader, "left outrigger, scale grommet").doubts == (
        '"grommet" beside "scale" was not understood',
    )


def test_a_strange_word_across_a_stop_does_not_count(small_reader: Reader) -> None:
    """It belongs to another thing said."""
    assert _read(small_reader, "left outrigger, scale, grommet").doubts == ()


def test_a_number_put_right_is_doubtful(small_reader: Reader) -> None:
    """A size is a measure somebody works by: "for inches" has to be listened to again."""
    statement = _read(small_reader, "left outrigger, hole for inches")
    assert statement.slots["size_mm"] == pytest.approx(101.6)
    assert len(statement.doubts) == 1


def test_a_fault_of_the_past_is_doubtful(small_reader: Reader) -> None:
    """Nothing says that it was mended."""
    assert _read(small_reader, "left outrigger used to be scale").doubts == ("said of the past",)


def test_a_number_out_of_bounds_is_told_with_its_unit(small_reader: Reader) -> None:
    """In people's words, not in those of the contract."""
    said = _read(small_reader, "left outrigger, hole, eighty thousand millimetres")
    assert said.doubts == ("size 80000 mm is out of the ordinary",)
