"""A grammar folder of another language: what it may leave out, and its words for numbers."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.reading import Phrase
from voicelog.errors import GrammarFault, UsageFault

NUMBERS = """\
[[meaning]]
slot = "number"
value = "25"
say = ["f\u00fcnfundzwanzig"]

[[meaning]]
slot = "unit"
value = "inch"
say = ["scale"]
"""


@pytest.fixture
def other(tmp_path: Path) -> Path:
    """A folder with words only, in its own tongue."""
    words = tmp_path / "other" / "words"
    words.mkdir(parents=True)
    (words / "a.toml").write_text(NUMBERS, encoding="utf-8")
    return words.parent


def test_maps_and_rules_that_it_lacks_are_those_behind_it(cart: Path, other: Path) -> None:
    """Words are its own, whole; nothing is mixed from both."""
    grammar = load_grammar("cart", folder=other, behind=cart)
    assert list(grammar.files) == ["words/a.toml", "maps/cart.toml", "rules/frame.toml"]
    assert {phrase.slot for phrase in grammar.vocabulary.phrases} == {"zone", "family"}


def test_its_own_map_and_rules_win(cart: Path, other: Path) -> None:
    """A file that it has is not looked for behind it."""
    (other / "maps").mkdir()
    text = (cart / "maps" / "cart.toml").read_text().replace("Hand cart", "Karren")
    (other / "maps" / "cart.toml").write_text(text)
    assert load_grammar("cart", folder=other, behind=cart).zone_map.title == "Karren"


def test_a_log_of_its_own_gets_nothing_from_elsewhere(cart: Path, other: Path) -> None:
    """Without a folder behind it, a missing map is told."""
    with pytest.raises(UsageFault, match="no map 'cart'"):
        load_grammar("cart", folder=other)


def test_words_of_numbers_are_kept_apart(cart: Path, other: Path) -> None:
    """They are not matched as phrases, so that one word may be a unit and a condition."""
    vocabulary = load_grammar("cart", folder=other, behind=cart).vocabulary
    assert vocabulary.numerals == (
        Phrase("f\u00fcnfundzwanzig", "number", "25"),
        Phrase("scale", "unit", "inch"),
    )
    assert vocabulary.telling()[-2:] == ("f\u00fcnfundzwanzig", "scale")


def test_a_number_said_twice_is_still_a_fault(cart: Path, other: Path) -> None:
    """Two values for one word would be settled by the order of files."""
    (other / "words" / "b.toml").write_text(NUMBERS.replace("25", "26"), encoding="utf-8")
    with pytest.raises(GrammarFault, match="already said for number 25"):
        load_grammar("cart", folder=other, behind=cart)


def test_the_names_of_the_map_can_be_forgotten(cart: Path, other: Path) -> None:
    """Places keep their roles and ends, and are called by the names of the overlay alone."""
    (other / "overlays").mkdir()
    (other / "overlays" / "places.toml").write_text(
        'forget_names = true\n[[zone]]\nid = "left-shaft"\ntitle = "Holm"\nsay = ["holm"]\n'
        '[[family]]\nsay = ["teil"]\nzones = ["left-shaft", "axle-block"]\n'
    )
    grammar = load_grammar("cart", folder=other, behind=cart)
    assert [phrase.text for phrase in grammar.vocabulary.phrases] == ["holm", "teil"]
    assert grammar.zone_map["left-shaft"].title == "Holm"
    assert grammar.zone_map.families[0].ends["front"] == "left-shaft"


def test_letters_with_marks_are_the_same_however_the_file_has_them(cart: Path) -> None:
    """Some editors save a letter and its mark as two characters; what is heard has one."""
    path = cart / "words" / "a.toml"
    path.write_text(path.read_text().replace("might be", "ko\u0308nnte"), encoding="utf-8")
    texts = [phrase.text for phrase in load_grammar("cart", folder=cart).vocabulary.phrases]
    assert "k\u00f6nnte" in texts


def test_a_folder_without_any_part_of_a_grammar_is_told(cart: Path, tmp_path: Path) -> None:
    """A wrong path does not quietly give the shipped grammar."""
    with pytest.raises(UsageFault, match="no grammar in") as caught:
        load_grammar("cart", folder=tmp_path / "nowhere", behind=cart)
    assert "shipped language (de)" in caught.value.hint
