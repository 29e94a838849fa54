"""What holds for every number and measure among words."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from voicelog.domain.reading import Speech
from voicelog.interpret.measures import measure_at
from voicelog.interpret.numbers import number_at, numbers_at

NUMBER_WORDS = (
    "a an and half quarter point oh zero one two three nine ten fifteen twenty sixty hundred "
    "thousand million sixteenths eighth thirty second seconds couple dozen of 15 1.9 3/16 1,200 2nd"
)
MEASURE_WORDS = (
    "about or so to between by inch inches mil thou foot percent gauge size the as big dime it "
    "panel ish give take mill scale in rust hole left"
)
words_lists = st.lists(
    st.sampled_from([*NUMBER_WORDS.split(), *MEASURE_WORDS.split()]), max_size=12
)
cardinals = st.integers(min_value=0, max_value=10**12 - 1)


def _spelled(value: int | Fraction) -> list[str]:
    return str(num2words(value)).replace(",", "").split()


@given(cardinals)
def test_every_cardinal_comes_back(value: int) -> None:
    """Spelled by an independent speller, up to a million million."""
    words = _spelled(value)
    found = number_at(words, 0)
    assert found is not None
    assert (found.value, found.end) == (Fraction(value), len(words))


@given(st.decimals(min_value="0.001", max_value="999.999", places=3))
def test_every_decimal_comes_back_said_and_written(value: object) -> None:
    """Digit by digit after the point, or in figures: the value is exact."""
    text = str(value)
    whole, _, digits = text.partition(".")
    said = _spelled(int(whole)) + ["point"] + [str(num2words(int(d))) for d in digits]
    for words in (said, [text]):
        found = number_at(words, 0)
        assert found is not None
        assert (found.value, found.end) == (Fraction(text), len(words))


@given(st.integers(0, 200), st.integers(1, 31), st.sampled_from([8, 16, 32]))
def test_every_fraction_of_an_inch_comes_back(whole: int, count: int, parts: int) -> None:
    """Alone or after a whole number; the plural settles it."""
    name = {8: ["eighths"], 16: ["sixteenths"], 32: ["thirty", "seconds"]}[parts]
    words = _spelled(count) + name
    if whole and count < parts:
        words = [*_spelled(whole), "and", *words]
    found = number_at(words, 0)
    assert found is not None
    assert found.end == len(words)
    assert found.value == Fraction(count, parts) + (whole if whole and count < parts else 0)


@given(words_lists, words_lists)
def test_what_was_said_before_changes_nothing(before: list[str], words: list[str]) -> None:
    """A number starts where it starts: words in front of it only shift its end."""
    alone, after = numbers_at(words, 0), numbers_at(before + words, len(before))
    assert [(n.value, n.end + len(before)) for n in alone] == [(n.value, n.end) for n in after]


@given(words_lists, st.integers(0, 12))
def test_a_measure_lies_within_the_words(words: list[str], start: int) -> None:
    """It starts where asked, has at least one word and never ends outside; a range is ordered."""
    found = measure_at(words, start, Speech())
    if found is not None:
        assert found.start == start < found.end <= len(words)
        assert found.value >= 0
        assert found.low is None or found.low < found.value


@given(st.integers(1, 999), st.sampled_from([("mm", 1), ("cm", 10), ("thou", "0.0254")]))
def test_a_length_is_its_number_by_its_unit(value: int, unit: tuple[str, int | str]) -> None:
    """In words or figures alike."""
    name, mm = unit
    for words in ([*_spelled(value), name], [str(value), name]):
        found = measure_at(words, 0, Speech())
        assert found is not None
        assert found.end == len(words)
        assert found.value == float(value * Fraction(mm))


@given(st.lists(st.text(min_size=1, max_size=12), max_size=8))
def test_no_text_breaks_it(words: list[str]) -> None:
    """Any characters at all, at any start."""
    for start in range(len(words) + 1):
        measure_at(words, start, Speech())
