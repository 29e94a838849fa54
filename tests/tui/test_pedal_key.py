"""The key of a pedal: one that the terminal can name, and that does nothing else."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.errors import UsageFault
from voicelog.runtime.messages import Action
from voicelog.tui.actions import DEEDS
from voicelog.tui.entry_list import EntryList
from voicelog.tui.pedal_key import checked_key, is_printable
from voicelog.tui.typed_line import TypedLine


@pytest.mark.parametrize(
    ("name", "key", "printable"),
    [
        ("space", "space", True),
        (" ", "space", True),
        ("F9", "f9", False),
        (" PageDown ", "pagedown", False),
        ("k", "k", True),
        ("K", "K", True),
        (".", "full_stop", True),
        (",", "comma", True),
        ("/", "slash", True),
        ("digit_seven", "7", True),
        ("Ctrl+F9", "ctrl+f9", False),
        ("ctrl+i", "tab", False),
    ],
)
def test_a_free_key_is_called_as_the_terminal_calls_it(
    name: str, key: str, printable: bool
) -> None:
    """Long names in any case; one letter means just that one."""
    assert checked_key(name) == key
    assert is_printable(key) is printable


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("f9,f10", "these are several keys"),
        ("", "no key is called so"),
        ("pgdn", "no key is called so. Did you mean pagedown?"),
        ("left shift", "no key is called so"),
        ("shift+b", "no key is called so"),
        ("ctrl+", "no key is called so"),
        ("<any>", "no key is called so"),
        ("\x1b", "'?': no key is called so"),
        ("b", "that key is that of “Stand by”"),
        ("latin_small_letter_b", "that key is that of “Stand by”"),
        ("Ctrl+C", "that key is that of “Leave”"),
        ("?", "that key is that of “Help”"),
        ("ctrl+p", "that key opens the palette"),
        ("ctrl+m", "that key sends words"),
    ],
)
def test_another_is_refused_with_the_next_step(name: str, why: str) -> None:
    """A pedal that silently does nothing, or that stands by, is found out under the lift."""
    with pytest.raises(UsageFault, match="Name one free key") as refused:
        checked_key(name)
    assert why in str(refused.value)
    assert refused.value.exit_code == 2


def test_no_key_of_a_deed_is_free() -> None:
    """Each of them, but for the shipped one of the pedal."""
    for deed in DEEDS:
        for key in deed.keys.split(",") if deed.id != "pedal" else ():
            with pytest.raises(UsageFault):
                checked_key(key)


def test_a_bad_key_stops_the_screen_before_the_engine_starts(stage: Any) -> None:
    """So that the command ends with a usage error, and no log is opened."""
    with pytest.raises(UsageFault):
        stage.app(pedal="b")
    assert stage.engine.started == 0


@pytest.mark.asyncio
@pytest.mark.parametrize("key", ["pagedown", "up", "home", "space"])
async def test_the_pedal_works_while_the_list_has_the_focus(stage: Any, key: str) -> None:
    """The list would scroll by it."""
    app = stage.app(pedal=key)
    async with app.run_test() as pilot:
        stage.say(*stage.story())
        await pilot.pause()
        app.screen.query_one(EntryList).focus()
        await pilot.press(key)
        assert stage.engine.actions == [Action.PEDAL_DOWN, Action.PEDAL_UP]


@pytest.mark.asyncio
async def test_a_pedal_that_writes_nothing_works_in_the_typed_line(stage: Any) -> None:
    """Home would move on the line."""
    app = stage.app(pedal="home")
    async with app.run_test() as pilot:
        await pilot.press("t", "a", "home", "b")
        assert stage.engine.actions == [Action.PEDAL_DOWN, Action.PEDAL_UP]
        assert app.screen.query_one(TypedLine).value == "ab"


@pytest.mark.asyncio
async def test_a_pedal_that_writes_is_a_character_on_the_typed_line(stage: Any) -> None:
    """And a pedal again when the line is put away."""
    app = stage.app(pedal="k")
    async with app.run_test() as pilot:
        await pilot.press("t", *"kick", "enter")
        assert (stage.engine.typed, stage.engine.actions) == (["kick"], [])
        await pilot.press("escape", "k")
        assert stage.engine.actions == [Action.PEDAL_DOWN, Action.PEDAL_UP]
