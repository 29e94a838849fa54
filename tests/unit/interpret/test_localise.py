"""Words for numbers and units of another language, put into English where they stand for a number."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.domain.heard import Heard
from voicelog.domain.reading import Phrase, Speech, Vocabulary
from voicelog.interpret.localise import Numerals
from voicelog.interpret.measures import measure_at
from voicelog.interpret.tokens import Token, tokenise

GERMAN = Vocabulary(
    (),
    (
        Phrase("zwei", "number", "2"),
        Phrase("fünf", "number", "5"),
        Phrase("fünfundzwanzig", "number", "25"),
        Phrase("hundert", "number", "100"),
        Phrase("drei viertel", "number", "3/4"),
        Phrase("ein", "article", "one"),
        Phrase("komma", "point", ","),
        Phrase("millimeter", "unit", "millimetre"),
        Phrase("zoll", "unit", "inch"),
        Phrase("etwa", "amount", "about"),
        Phrase("zwischen", "amount", "between"),
        Phrase("und", "amount", "and"),
        Phrase("bis", "amount", "to"),
        Phrase("mal", "amount", "by"),
        Phrase("ohne sinn", "measuring", "measuring"),
    ),
)

WORDS = sorted({word for phrase in GERMAN.numerals for word in phrase.text.split()} | {"2,", "5"})


def english(text: str, vocabulary: Vocabulary = GERMAN) -> str:
    """The words after rewriting, with their stops."""
    tokens = tokenise(Heard.typed(text).hypotheses[0])
    found = Numerals(vocabulary).localised(tokens)
    return " ".join(token.text + token.stop for token in found)


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("Loch, fünfundzwanzig Millimeter", "loch, 25 mm"),
        ("zwei Komma fünf Millimeter", "2 point 5 mm"),
        ("2,5 mm", "2.5 mm"),
        ("zwei hundert fünf", "2 hundred 5"),
        ("drei viertel Zoll", "3/4 inches"),
        ("ein Loch, ein Millimeter", "ein loch, 1 mm"),
        ("zwei bis fünf Millimeter", "2 to 5 mm"),
        ("zwischen zwei und fünf", "between 2 and 5"),
        ("zwei mal fünf Zoll", "2 by 5 inches"),
        ("etwa fünf", "about 5"),
        ("bis etwa zwei Zoll", "bis about 2 inches"),
    ],
)
def test_what_stands_at_a_number_is_rewritten(said: str, written: str) -> None:
    """Numbers always; units, points and joints only beside one."""
    assert english(said) == written


@pytest.mark.parametrize(
    "said",
    ["bis hinten", "rost und loch", "noch mal zoll", "komma", "zwischen den blechen", "etwa hier"],
)
def test_the_same_words_elsewhere_are_left(said: str) -> None:
    """Ordinary words stay what the vocabulary knows them as."""
    assert english(said) == said


def test_two_numbers_joined_by_and_are_no_range() -> None:
    """Only "between" makes one."""
    assert english("zwei und fünf") == "2 und 5"


def test_a_stop_ends_a_number() -> None:
    """A new clause begins with its own words."""
    assert english("fünf. bis zwei") == "5. bis 2"


def test_english_is_left_alone() -> None:
    """A vocabulary whose numerals only bias the ear changes nothing."""
    vocabulary = Vocabulary((), (Phrase("one", "measuring", "measuring"),))
    assert english("one inch, 2,5", vocabulary) == "one inch, 2, 5"


def test_the_least_confidence_of_several_words_is_kept() -> None:
    """A number made of a doubtful word is doubtful."""
    heard = (Token("drei", "", 0.9), Token("viertel", ",", 0.4))
    assert Numerals(GERMAN).localised(heard) == (Token("3/4", ",", 0.4),)


def test_umlauts_and_sharp_s_survive() -> None:
    """Composed or not, in capitals or not, they arrive as the grammar has them."""
    assert english("STRAẞE Außen fu\u0308nf Größe") == "straße außen 5 größe"


@pytest.mark.parametrize(
    ("said", "mm", "low_mm"),
    [
        ("fünfundzwanzig Millimeter", 25, None),
        ("zwei Komma fünf Millimeter", 2.5, None),
        ("etwa drei viertel Zoll", 19.05, None),
        ("zwischen zwei und fünf Millimeter", 5, 2),
        ("zwei hundert fünf Millimeter", 205, None),
    ],
)
def test_the_measure_is_the_one_said(said: str, mm: float, low_mm: float | None) -> None:
    """The rewritten words are read as a length, to the last word."""
    words = english(said).split()
    measure = measure_at(words, 0, Speech())
    assert measure is not None
    assert (measure.quantity, measure.value, measure.low) == ("length", mm, low_mm)
    assert measure.end == len(words)


@settings(max_examples=150, deadline=None)
@given(text=st.text(max_size=80) | st.lists(st.sampled_from(WORDS), max_size=12).map(" ".join))
def test_any_text_is_rewritten_without_loss(text: str) -> None:
    """Nothing is raised, nothing grows, and only words of numbers go."""
    tokens = tokenise(Heard.typed(text).hypotheses[0])
    numerals = Numerals(GERMAN)
    once = numerals.localised(tokens)
    assert len(once) <= len(tokens)
    assert {token.text for token in tokens} - {token.text for token in once} <= {
        *WORDS,
        *_figures(tokens),
    }


def _figures(tokens: tuple[Token, ...]) -> set[str]:
    """Written figures, which a decimal comma may join."""
    return {token.text for token in tokens if token.text[:1].isdecimal()}
