"""A new value: picked while one types, or a number that is checked while it grows."""

from __future__ import annotations

from functools import partial
from typing import Any

import pytest

from voicelog.interpret.slot_text import slot_value, value_in_words
from voicelog.interpret.suggest import Picker
from voicelog.tui.review.choices import not_listed
from voicelog.tui.review.value_dialog import Chosen, ValueDialog

pytestmark = pytest.mark.asyncio


def place(stand: Any, now: str = "Rear rail", **given: Any) -> ValueDialog:
    """For the zone of an entry."""
    check = partial(not_listed, "place")
    return ValueDialog("zone", "place", now, stand.zones, check, **given)


def size(stand: Any) -> ValueDialog:
    """For its size."""
    return ValueDialog("size_mm", "size", "25 mm", None, stand.millimetres)


async def test_letters_narrow_the_list_and_enter_takes_the_best(stand: Any) -> None:
    """Typed letters go to the line, the list follows."""
    host = await stand.ask(place(stand), " spring")
    assert "Rear spring hanger" in host.text
    assert "Fuel tank" not in host.text
    host = await stand.ask(place(stand), " spring", "enter")
    assert host.answer == Chosen(value="rear-spring-hanger")


async def test_arrows_go_through_the_list_while_one_types(stand: Any) -> None:
    """The focus stays in the line; at the ends of the list it stays put."""
    host = await stand.ask(place(stand), " rail", "down", "enter")
    assert host.answer == Chosen(value="rear-rail")
    host = await stand.ask(place(stand), " rail", "down", "up", "up", "enter")
    assert host.answer == Chosen(value="front-rail")
    host = await stand.ask(place(stand, now=""), "pagedown", "enter")
    assert host.answer == Chosen(value="body-mount")


async def test_enter_at_once_changes_nothing(stand: Any) -> None:
    """What stands there now is highlighted; where nothing does, nothing is chosen by accident."""
    assert (await stand.ask(place(stand), "enter")).answer == Chosen(value="rear-rail")
    host = await stand.ask(place(stand, now=""), "enter")
    assert host.answer == stand.STILL_OPEN
    assert "Nothing is chosen yet" in host.text


async def test_other_names_of_a_value_are_told(stand: Any) -> None:
    """But not its own title over again."""
    text = (await stand.ask(place(stand), size=(160, 50))).text
    assert "“front chassis leg”" in text
    assert next(line for line in text.splitlines() if "“rocker”" in line).lower().count("sill") == 1


async def test_what_is_on_no_list_is_refused_at_once(stand: Any) -> None:
    """With the next step, and Enter does not take it."""
    host = await stand.ask(place(stand), " moon", "enter")
    assert host.answer == stand.STILL_OPEN
    assert "No place is called “moon”. Type less, or go down the list" in host.text


async def test_a_number_is_told_in_words_as_it_grows(stand: Any) -> None:
    """Enter gives back the text, for whoever asked to read it again."""
    assert "=  4.8 mm" in (await stand.ask(size(stand), " 4.80 mm")).text
    assert (await stand.ask(size(stand), " 4.80 mm", "enter")).answer == Chosen(text="4.80 mm")


async def test_a_wrong_number_is_told_under_the_line_and_not_taken(stand: Any) -> None:
    """Message and next step, right away; mended, it is gone."""
    host = await stand.ask(size(stand), " 4.8 mx", "enter")
    lines = host.text.splitlines()
    below = next(n for n, line in enumerate(lines) if "4.8 mx" in line and "┃" in line) + 2
    assert "! “4.8 mx” is no length. Type it as 4.8 mm or 3/16 in" in lines[below]
    assert host.answer == stand.STILL_OPEN
    mended = await stand.ask(size(stand), " 4.8 mx", "backspace", "m")
    assert "no length" not in mended.text


async def test_a_value_can_be_dropped(stand: Any) -> None:
    """With its key, or from the last row of the list."""
    assert (await stand.ask(size(stand), " 7", "ctrl+d")).answer == Chosen(drop=True)
    assert (await stand.ask(size(stand), "down", "enter")).answer == Chosen(drop=True)
    assert (await stand.ask(place(stand), *["pagedown"] * 3, "enter")).answer == Chosen(drop=True)


async def test_a_value_that_has_to_be_there_cannot(stand: Any) -> None:
    """Neither the row nor the key is offered, and the key does nothing."""
    host = await stand.ask(place(stand, drop=""), "ctrl+d")
    assert host.answer == stand.STILL_OPEN
    assert "drop" not in host.text
    assert "Ctrl+D" not in host.text


async def test_the_list_does_not_jump_while_one_types(stand: Any) -> None:
    """Its frame keeps its lines however few choices are left."""
    before, after = [(await stand.ask(place(stand), *keys)).text for keys in ((), (" spring",))]
    corners = [[n for n, line in enumerate(t.splitlines()) if "╰" in line] for t in (before, after)]
    assert corners[0] == corners[1]


async def test_the_vocabulary_s_own_search_fits(stand: Any, grammar: Any) -> None:
    """What the picker of the program offers can be shown as it is, “seal” finding the sill."""
    picker = Picker(grammar.vocabulary, grammar.zone_map)

    def check(text: str) -> str:
        value = slot_value("size_mm", text, grammar.zone_map, grammar.vocabulary)
        return value_in_words("size_mm", value, grammar.zone_map)

    choose = partial(picker.choices, "condition")
    told = ValueDialog("condition", "condition", "", choose, partial(not_listed, "condition"))
    assert (await stand.ask(told, " surfac", "enter")).answer == Chosen(value="surface-rust")
    host = await stand.ask(ValueDialog("size_mm", "size", "", None, check), " 3/16 in")
    assert "=  4.7" in host.text
