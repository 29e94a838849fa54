"""Filters that stack, set with a letter each."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.grade import Grade
from voicelog.review.sieve import UNPLACED, Sieve
from voicelog.tui.review.filter_dialog import FilterDialog

pytestmark = pytest.mark.asyncio


def dialog(stand: Any, sieve: Sieve = Sieve()) -> FilterDialog:  # noqa: B008 - frozen
    """With a count that shows what it was asked."""
    return FilterDialog(sieve, stand.zones, told=lambda s: f"doubtful {s.doubtful}, zone {s.zone}")


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("d", "doubtful"), ("u", "unsafe"), ("p", "no_photo"), ("a", "changed_after_signing"),
        ("w", "withdrawn"), ("r", "remarks"),
    ],
)  # fmt: skip
async def test_a_letter_switches_and_switches_back(stand: Any, key: str, name: str) -> None:
    """Every switch of the sieve has one."""
    was = getattr(Sieve(), name)
    host = await stand.ask(dialog(stand), key, "enter")
    assert host.answer == replace(Sieve(), **{name: not was})
    assert (await stand.ask(dialog(stand), key, key, "enter")).answer == Sieve()


async def test_filters_stack(stand: Any) -> None:
    """One after another, by letter and with Space on the marked row."""
    host = await stand.ask(dialog(stand), "d", "down", "up", "up", "space", "u", "enter")
    assert host.answer == Sieve(unsafe=True)
    host = await stand.ask(dialog(stand), "space", "u", "enter")
    assert host.answer == Sieve(doubtful=True, unsafe=True)


async def test_place_side_and_grade_are_picked_from_lists(stand: Any) -> None:
    """The places with a search, by their ids; the grade as a grade."""
    keys = ("z", " spring", "enter", "s", " right", "enter", "g", " repair", "enter", "enter")
    answer = (await stand.ask(dialog(stand), *keys)).answer
    assert answer == Sieve(zone="rear-spring-hanger", side="right", grade=Grade.REPAIR)
    assert isinstance(answer.grade, Grade)


async def test_entries_without_a_place_can_be_asked_for(stand: Any) -> None:
    """They are on no map."""
    host = await stand.ask(dialog(stand), "z", " no place", "enter", "enter")
    assert host.answer == Sieve(zone=UNPLACED)


async def test_a_picked_filter_can_be_taken_back(stand: Any) -> None:
    """With the row “any”; leaving the list changes nothing."""
    given = Sieve(zone="sill", text="rust", grade=Grade.TREAT)
    host = await stand.ask(dialog(stand, given), "z", "ctrl+d", "g", "escape", "enter")
    assert host.answer == Sieve(text="rust", grade=Grade.TREAT)


async def test_words_are_typed(stand: Any) -> None:
    """And taken away again."""
    host = await stand.ask(dialog(stand), "t", " seam weld", "enter", "enter")
    assert host.answer == Sieve(text="seam weld")
    host = await stand.ask(dialog(stand, Sieve(text="rust")), "t", "ctrl+d", "enter")
    assert host.answer == Sieve()


async def test_all_are_cleared_at_once(stand: Any) -> None:
    """Back to what a log opens with."""
    given = Sieve(doubtful=True, zone="sill", side="left", text="rust", remarks=True)
    assert (await stand.ask(dialog(stand, given), "x", "enter")).answer == Sieve()


async def test_what_is_set_is_shown_and_counted(stand: Any) -> None:
    """By its title, with a cross for a switch; the count follows each change."""
    text = (await stand.ask(dialog(stand, Sieve(zone="sill")), "d")).text
    assert "[x] only doubtful" in text
    assert "[ ] only unsafe" in text
    assert "Sill" in text
    assert "doubtful True, zone sill" in text


async def test_a_zone_that_is_on_no_map_is_still_shown(stand: Any) -> None:
    """By its id, made harmless."""
    assert "z?one" in (await stand.ask(dialog(stand, Sieve(zone="z\x1bone")))).text
