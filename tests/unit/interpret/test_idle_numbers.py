"""Numbers and refusals in shop talk, which must not change what was said before."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Statement
from voicelog.interpret.reader import Reader


@pytest.fixture(scope="module")
def reader() -> Reader:
    """The shipped words and map; a reader remembers nothing between utterances."""
    grammar = load_grammar()
    return Reader(grammar.vocabulary, grammar.zone_map)


def _read(reader: Reader, text: str) -> tuple[Statement, ...]:
    return tuple(reader.read(Heard.typed(text)).statements)


@pytest.mark.parametrize(
    "text",
    [
        "three nine five eight looking",
        "two five four five three five eight six two eight",
        "a crowd of thirty thousand saw the visitors row away at two point eight",
    ],
)
def test_a_row_of_numbers_measures_nothing(reader: Reader, text: str) -> None:
    """A telephone number or a score would otherwise become the size of the finding before it."""
    assert all(one.bare_number is None for one in _read(reader, text) if one.act is Act.REPORT)


@pytest.mark.parametrize(
    ("text", "number"),
    [("five point five", 5.5), ("it's fifteen", 15.0), ("fifteen, might be sixteen", 16.0)],
)
def test_a_number_alone_still_does(reader: Reader, text: str, number: float) -> None:
    """Said right after a finding it is its size; of two the last, which puts the first right."""
    assert [one.bare_number for one in _read(reader, text)] == [number]


@pytest.mark.parametrize(
    "text", ["my first truck had no floor in it at all", "that one has no left side to it"]
)
def test_having_none_takes_nothing_back(reader: Reader, text: str) -> None:
    """ "No" before a place moves the entry before it, but not where it says what somebody has not."""
    assert all(one.act is not Act.CORRECTION for one in _read(reader, text))


def test_a_bare_no_still_takes_back(reader: Reader) -> None:
    """The place that follows is the right one."""
    assert _read(reader, "no, right rear rail")[0].act is Act.CORRECTION
