"""Which slot to edit: those known first, one letter each."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.domain.slot import SLOTS
from voicelog.tui.review.slot_dialog import KEYS, TITLES, SlotDialog, slot_rows

pytestmark = pytest.mark.asyncio


def dialog(stand: Any, **changes: Any) -> SlotDialog:
    """For the entry, with its size in words."""
    entry = stand.entry(**changes)
    return SlotDialog(entry, slot_rows(entry, {"size_mm": "25 mm"}))


async def test_what_is_known_comes_first_with_its_value(stand: Any) -> None:
    """So that the slot that was misheard is at hand."""
    host = await stand.ask(dialog(stand))
    shown = [line for line in host.text.splitlines() if line.startswith("│ ┃")]
    assert ["rear-rail" in shown[0], "left" in shown[1], "25 mm" in shown[3]] == [True] * 3
    assert "finding" in shown[4]
    assert all("–" in line for line in shown[5:])
    assert "heard “left rear rail hole about an inch”" in host.text


async def test_enter_edits_the_highlighted_slot(stand: Any) -> None:
    """The third one is the condition."""
    assert (await stand.ask(dialog(stand), "down", "down", "enter")).answer == "condition"


@pytest.mark.parametrize("slot", ["side", "face", "landmark", "kind", "reason"])
async def test_a_letter_edits_its_slot(stand: Any, slot: str) -> None:
    """Known or not, listed on the screen or further down: the letter is always the same."""
    assert (await stand.ask(dialog(stand), KEYS[slot])).answer == slot


async def test_letters_are_told_apart() -> None:
    """No two slots share one; every slot has one and a name."""
    assert len(set(KEYS.values())) == len(KEYS)
    assert set(KEYS) == set(TITLES) == {*SLOTS, "kind", "reason"}


async def test_what_was_spelled_is_offered_only_where_it_was(stand: Any) -> None:
    """A finding has no VIN; a remark that holds one does."""
    plain, spelt = dialog(stand), dialog(stand, slots={"vin": "1HGCM82633A004352"})
    assert "VIN" not in (await stand.ask(plain, size=(160, 50))).text
    assert (await stand.ask(spelt, "v")).answer == "vin"
