"""The runners-up as whole entries, one digit each."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.tui.review.alternatives_dialog import AlternativeRow, AlternativesDialog

pytestmark = pytest.mark.asyncio


ROWS = (
    AlternativeRow("left rear rail hole", "left rear rail, hole, 25 mm", "unsafe"),
    AlternativeRow("left rear rail whole", "left rear rail, " + "a long story " * 9 + "END", ""),
)


async def test_each_is_a_whole_entry_with_its_words_and_grade(stand: Any) -> None:
    """Nothing of it is cut off, and a grade has its sign beside its colour."""
    text = (await stand.ask(AlternativesDialog(ROWS))).text
    for told in ("! UNSAFE", "left rear rail, hole, 25 mm", "from “left rear rail hole”", "END"):
        assert told in text


@pytest.mark.parametrize(("keys", "answer"), [("1", 0), ("2", 1)])
async def test_a_digit_takes_that_one(stand: Any, keys: str, answer: int) -> None:
    """At once."""
    assert (await stand.ask(AlternativesDialog(ROWS), keys)).answer == answer


async def test_enter_takes_the_highlighted_one(stand: Any) -> None:
    """The likeliest, unless one goes down."""
    assert (await stand.ask(AlternativesDialog(ROWS), "enter")).answer == 0
    assert (await stand.ask(AlternativesDialog(ROWS), "down", "enter")).answer == 1


async def test_a_digit_beyond_the_last_does_nothing(stand: Any) -> None:
    """It is no row's."""
    assert (await stand.ask(AlternativesDialog(ROWS), "3")).answer == stand.STILL_OPEN


async def test_the_tenth_is_reached_with_the_arrows(stand: Any) -> None:
    """Digits end at nine."""
    many = AlternativesDialog([AlternativeRow(f"text {n}", f"entry {n}") for n in range(12)])
    assert (await stand.ask(many, "end", "enter")).answer == 11
