"""What sounds alike: which pairs are worth a look, and in which order they are told."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.runtime.clashes import Clash, clashes, known


@pytest.fixture(scope="module")
def shipped() -> Grammar:
    """The grammar as it ships."""
    return load_grammar()


@pytest.fixture(scope="module")
def found(shipped: Grammar) -> tuple[Clash, ...]:
    """What sounds alike in it, at the default threshold; found once, since it takes seconds."""
    return clashes(shipped, 0)


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A grammar folder with a handful of words and no names of places."""
    folder = tmp_path_factory.mktemp("small")
    (folder / "words").mkdir()
    (folder / "words" / "a.toml").write_text(SMALL, encoding="utf-8")
    (folder / "overlays").mkdir()
    (folder / "overlays" / "names.toml").write_text("forget_names = true\n", encoding="utf-8")
    return folder


SMALL = """\
[[meaning]]
slot = "condition"
value = "scale"
say = ["scraped", "scrapes", "hole in the rail", "scale"]
misheard = ["skale"]

[[meaning]]
slot = "rust"
value = "surface-rust"
say = ["rust", "scraping", "whole in the rail"]

[[meaning]]
slot = "filler"
value = "filler"
say = ["there", "can't see it", "skill"]

[[meaning]]
slot = "ignore"
value = "ignore"
say = ["their"]

[[meaning]]
slot = "act"
value = "not-seen"
say = ["can't see"]
"""


def pairs(found: tuple[Clash, ...]) -> dict[frozenset[str], Clash]:
    """The clashes by their two texts."""
    return {frozenset((clash.one.text, clash.other.text)): clash for clash in found}


def laid_over(small: Path, tmp_path: Path, text: str) -> tuple[Clash, ...]:
    """What sounds alike in the small grammar with a file of one's own on top."""
    file = tmp_path / "shop.toml"
    file.write_text(text, encoding="utf-8")
    return clashes(load_grammar(folder=small, behind=grammar_dir(), overlays=[file]), 1)


def test_the_shipped_words_have_dozens_of_pairs_not_thousands(found: tuple[Clash, ...]) -> None:
    """At the default threshold a person can read the list."""
    assert 20 < len(found) < 150


def test_say_again_and_same_again_cannot_be_told_apart(found: tuple[Clash, ...]) -> None:
    """Both are control words, said alone: nothing around them helps."""
    pair = pairs(found)[frozenset(("say again", "same again"))]
    assert pair.score > 0.85
    assert not pair.in_context
    assert {pair.one.meaning, pair.other.meaning} == {"act say-again", "act same"}


def test_hole_and_whole_are_safe_only_in_context(found: tuple[Clash, ...]) -> None:
    """A condition and a filler stand in different places of a sentence."""
    pair = pairs(found)[frozenset(("hole", "whole"))]
    assert (pair.score, pair.in_context) == (1.0, True)
    assert "conditions.toml:" in pair.one.place


def test_what_is_no_trouble_is_left_out(small: Path, tmp_path: Path) -> None:
    """Forms of one word, two words of talk, phrases that hold each other, known mishearings."""
    found = pairs(laid_over(small, tmp_path, ""))
    assert frozenset(("hole in the rail", "whole in the rail")) in found
    for texts in (
        ("scraped", "scraping"), ("there", "their"), ("can't see", "can't see it"), ("skale", "scale"),
    ):  # fmt: skip
        assert frozenset(texts) not in found


def test_the_same_words_in_several_phrases_are_one_pair(found: tuple[Clash, ...]) -> None:
    """Two places that are called "… mount" and "… mounting" alike are told once."""
    assert any(clash.more for clash in found)
    meanings = [(c.one.meaning, c.other.meaning, c.one.text, c.other.text) for c in found]
    assert len(meanings) == len(set(meanings))


def test_a_lower_threshold_only_adds(small: Path) -> None:
    """Every pair of the short list is on the long one with its score."""
    grammar = load_grammar(folder=small, behind=grammar_dir())
    few, many = pairs(clashes(grammar, 0, 0.95)), pairs(clashes(grammar, 0, 0.5))
    assert few
    assert few.items() < many.items()


def test_ones_own_words_come_first_with_their_line(small: Path, tmp_path: Path) -> None:
    """Those a shop can change, whatever they score."""
    text = '[[meaning]]\nslot = "condition"\nvalue = "scale"\nsay = ["cornflakes", "roast"]\n'
    first, second, *_ = laid_over(small, tmp_path, text)
    assert {first.one.text, first.other.text} == {"rust", "roast"}
    assert (first.own, second.own) == (True, False)
    assert first.other.place.endswith("shop.toml:4")


def test_the_overlays_of_a_language_are_not_the_shops(small: Path) -> None:
    """Files in the folder's own ``overlays`` count as shipped."""
    names = small / "overlays" / "more.toml"
    names.write_text('[[meaning]]\nslot = "good"\nvalue = "good"\nsay = ["roast"]\n', "utf-8")
    found = clashes(load_grammar(folder=small, behind=grammar_dir()), 0, 0.8)
    names.unlink()
    assert frozenset(("rust", "roast")) in pairs(found)
    assert not any(clash.own for clash in found)


def test_the_known_confusions_are_told_whatever_they_score(shipped: Grammar) -> None:
    """Those of the measured recognisers, with what the heard word would mean here."""
    found = {(pair.said, pair.heard): pair for pair in known(shipped)}
    assert found["rot", "right"].means == "side right"
    assert found["scale", "sill"].means == "zone sill"
    assert found["brake", "break"].means == ""
    assert found["brake", "break"].score == 1.0
    assert found["arm", "on"].used_in > 10


def test_a_confusion_of_a_word_that_the_grammar_lacks_is_not_told(tmp_path: Path) -> None:
    """Nothing is at stake where nobody says it."""
    file = tmp_path / "shop.toml"
    file.write_text('[[confusion]]\nsay = "zeppelin"\nheard = ["zip line"]\n', encoding="utf-8")
    said = {pair.said for pair in known(load_grammar(overlays=[file]))}
    assert "rot" in said
    assert "zeppelin" not in said
