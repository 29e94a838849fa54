"""Words made fit for a voice."""

from __future__ import annotations

import pytest

from voicelog.announce.text import LONGEST, MOST, REST, pieces, speakable


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("left rear rail, hole, thirty five millimetres", "left rear rail, hole, thirty five millimetres"),
        ("35 mm", "35 millimetres"),
        ("2mm", "2 millimetres"),
        ("comma", "comma"),
        ("3/16 inch", "3 over 16 inch"),
        ("2½ inches", "2 1 over 2 inches"),
        ("side-to-side, it's 5% at 3°", "side-to-side, it's 5% at 3°"),
        ("１２ mm", "12 millimetres"),
        ("99999999", "9 9 9 9 9 9 9 9"),
        ("1,234,567,890", "1 2 3 4 5 6 7 8 9 0"),
        ("1,250 parts", "1,250 parts"),
    ],
)  # fmt: skip
def test_plain_words_stay_and_figures_are_read_as_meant(text: str, said: str) -> None:
    """A third of a sixteenth is no day in March, and nothing is too long a number."""
    assert speakable(text) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("\x1b[2J hole", "2J hole"),
        ("[hole](/fˈIn/) now", "hole fˈIn now"),
        ("[[h@l'oU]] hole", "h l'oU hole"),
        ("<break time='9s'/> hole", "break time '9s' hole"),
        ("hole\u202e\u200b\ud800\ue000", "hole"),
        ("a_b\\c|d`e*f", "a b c d e f"),
        ("left\n\nright\ttop\x00", "left right top"),
    ],
)
def test_nothing_in_the_words_can_steer_an_engine(text: str, said: str) -> None:
    """Control characters, marks of direction and what engines take for markup are blanks."""
    assert speakable(text) == said


@pytest.mark.parametrize("text", ["", "  \n", "...", "\x00\x07", "🙂", "-", "\ud800"])
def test_nothing_to_say_is_nothing(text: str) -> None:
    """No engine is asked for it."""
    assert speakable(text) == ""
    assert pieces(speakable(text)) == ()


@pytest.mark.parametrize(
    "text", ["rust, " * 250, "rust " * 300, "One. Two three. " * 90, "a" * 1_500]
)
def test_long_texts_are_cut_where_one_would_breathe(text: str) -> None:
    """Nothing is lost, no piece is too long, words stay whole as long as there are any."""
    said = speakable(text)
    found = pieces(said)
    assert all(0 < len(piece) <= LONGEST for piece in found)
    assert "".join("".join(found).split()) == "".join(said.split())
    if " " in said:
        assert set(" ".join(found).split()) == set(said.split())


def test_a_sentence_s_end_is_the_best_place_to_cut() -> None:
    """Before a comma, which comes before a blank."""
    text = "Left rear rail, hole. " + "right front rail, " * 12
    assert pieces(text)[0] == "Left rear rail, hole."
    assert pieces("a " * 40 + "b, " + "c " * 80)[0].endswith("b,")


def test_endless_text_ends() -> None:
    """What is beyond is told to be there; a megabyte costs no time."""
    found = pieces(speakable("rust " * 200_000))
    assert found[-1] == REST
    assert sum(map(len, found)) <= MOST + len(REST)
