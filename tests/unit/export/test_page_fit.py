"""How large page one is printed: as large as leaves it one page."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sample_report import report

from voicelog.domain.report import Answer, Row
from voicelog.export.page_fit import PAGE_MM, SIZES, fit_of, height_mm

FEW = replace(
    report(0), worst=(), findings=(), overruled=(), next_step=("Look.",), vehicle=(), conditions=()
)


def test_a_page_of_few_words_is_printed_large() -> None:
    """There is room for it."""
    assert fit_of(FEW) == 0


def test_more_words_make_it_smaller_and_never_larger() -> None:
    """Down to the size in which texts are cut."""
    rows = tuple(
        Row("Does not agree", "one number here and another one there " * 2) for _ in range(40)
    )
    fits = [fit_of(replace(FEW, vehicle=rows[:number])) for number in range(0, 41, 2)]
    assert fits == sorted(fits)
    assert fits[-1] == len(SIZES)


@pytest.mark.parametrize("number", range(len(SIZES)))
def test_the_size_chosen_is_the_first_that_fits(number: int) -> None:
    """By the height that is worked out for it."""
    rows = tuple(Row("Note", "some words of a usual length") for _ in range(12 * number))
    made = replace(FEW, vehicle=rows)
    fit = fit_of(made)
    assert all(height_mm(made, size) > PAGE_MM for size in SIZES[:fit])
    assert fit == len(SIZES) or height_mm(made, SIZES[fit]) <= PAGE_MM


def test_wide_letters_take_more_room() -> None:
    """A page in capitals or in Chinese is no shorter for having fewer letters."""
    heights = [
        height_mm(replace(FEW, answers=(Answer("?", "-", (letter * 200,)),) * 3), SIZES[1])
        for letter in ("a", "W", "\u4e00")
    ]
    assert heights == sorted(heights)
    assert heights[0] < heights[2]
