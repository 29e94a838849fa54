"""Keys, pedal, palette, typed words, and leaving."""

from __future__ import annotations

from typing import Any

import pytest
from textual.command import CommandPalette

from voicelog.runtime.messages import Action, Closed, State, StateChanged
from voicelog.tui.actions import DEEDS
from voicelog.tui.app import READ_S, TWICE_S
from voicelog.tui.help_screen import HelpScreen
from voicelog.tui.looks import LEAVING
from voicelog.tui.notice_line import NoticeLine
from voicelog.tui.plan_view import PlanView
from voicelog.tui.state_banner import StateBanner
from voicelog.tui.themes import NAMES
from voicelog.tui.typed_line import TypedLine

pytestmark = pytest.mark.asyncio


async def test_every_key_asks_the_engine_for_its_action(stage: Any) -> None:
    """Each of its keys."""
    app = stage.app()
    asked = [(key, d.action) for d in DEEDS if d.action for key in d.keys.split(",")]
    async with app.run_test() as pilot:
        await pilot.press(*(key for key, _ in asked))
        assert stage.engine.actions == [action for _, action in asked]


async def test_a_sentence_typed_without_its_line_does_not_close_the_inspection(stage: Any) -> None:
    """The letters of "frame" finish and affirm; nobody reads what is open as fast as that."""
    app = stage.app()
    async with app.run_test() as pilot:
        await pilot.press(*"fra")
        assert Action.AFFIRM not in stage.engine.actions
        assert "Too soon" in stage.shown(app, NoticeLine)
        stage.clock.now_s += READ_S
        await pilot.press("a")
        assert stage.engine.actions[-1] is Action.AFFIRM


async def test_keys_work_under_the_help_screen(stage: Any) -> None:
    """Who reads how to affirm can affirm."""
    app = stage.app()
    async with app.run_test() as pilot:
        await pilot.press("f1", "a")
        assert stage.engine.actions == [Action.AFFIRM]
        assert isinstance(app.screen, HelpScreen)
        await pilot.press("escape")
        assert not isinstance(app.screen, HelpScreen)
        await pilot.press("f1", "f1")
        assert not isinstance(app.screen, HelpScreen)


async def test_the_help_screen_names_every_key_and_word(stage: Any) -> None:
    """With the words of the grammar in force."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(stage.opened(()))
        await pilot.press("f1")
        page = str(app.screen.query_one("#help Static").render())
        assert all(deed.does in page and deed.shown_keys in page for deed in DEEDS)
        assert "“logbook, go ahead”" in page


async def test_the_palette_does_what_keys_do(stage: Any) -> None:
    """Found by name."""
    app = stage.app()
    async with app.run_test() as pilot:
        await pilot.press("ctrl+p")
        assert isinstance(app.screen, CommandPalette)
        await pilot.press(*"say aga")
        await pilot.pause(0.3)
        await pilot.press("enter")
        await pilot.pause(0.1)
        assert stage.engine.actions == [Action.SAY_AGAIN]


async def test_typed_words_go_to_the_engine_and_keys_do_not(stage: Any) -> None:
    """A letter on the line is a letter; Escape gives the keys back."""
    app = stage.app()
    async with app.run_test() as pilot:
        line = app.screen.query_one(TypedLine)
        assert not line.display
        await pilot.press("t", *"a hole", "enter", "space", "enter", *"two", "enter")
        assert stage.engine.typed == ["a hole", "two"]
        assert stage.engine.actions == []
        await pilot.press(*"kept", "escape", "a")
        assert stage.engine.actions == [Action.AFFIRM]
        assert not line.display
        await pilot.press("t")
        assert (line.display, line.value) == (True, "kept")


async def test_the_plan_can_be_shown_and_hidden_at_any_size(stage: Any) -> None:
    """In a small window it takes the place of the card."""
    app = stage.app()
    async with app.run_test(size=(80, 24)) as pilot:
        stage.say(*stage.story())
        await pilot.pause()
        plan = app.screen.query_one(PlanView)
        assert not plan.display
        await pilot.press("v")
        assert plan.display
        assert plan.size.height >= 11
        await pilot.press("v")
        assert not plan.display
        await pilot.resize_terminal(120, 40)
        await pilot.press("v")
        assert plan.display


async def test_colours_change_with_a_key(stage: Any) -> None:
    """And begin as the setting says."""
    app = stage.app(theme="light")
    async with app.run_test() as pilot:
        assert app.theme == NAMES["light"]
        await pilot.press("c")
        assert app.theme == NAMES["dark"]


async def test_a_pedal_held_is_down_until_its_repeats_stop(stage: Any) -> None:
    """The release comes from the clock alone."""
    app = stage.app(push_to_talk="hold", pedal="F9")
    async with app.run_test() as pilot:
        await pilot.press("f9")
        assert stage.engine.actions == [Action.PEDAL_DOWN]
        stage.clock.now_s = 0.6
        await pilot.press("f9")
        assert stage.engine.actions == [Action.PEDAL_DOWN]
        stage.clock.now_s = 2.0
        await pilot.pause(0.12)
        assert stage.engine.actions == [Action.PEDAL_DOWN, Action.PEDAL_UP]


async def test_the_shipped_pedal_key_is_free_when_another_is_set(stage: Any) -> None:
    """And the set one works."""
    app = stage.app(push_to_talk="toggle", pedal="k")
    async with app.run_test() as pilot:
        await pilot.press("space", "k")
        assert stage.engine.actions == [Action.PEDAL_DOWN]


async def test_hands_free_the_pedal_cuts_in(stage: Any) -> None:
    """Down and up at once."""
    app = stage.app()
    async with app.run_test() as pilot:
        await pilot.press("space")
        assert stage.engine.actions == [Action.PEDAL_DOWN, Action.PEDAL_UP]


@pytest.mark.parametrize("key", ["q", "ctrl+q", "ctrl+c"])
async def test_leaving_has_to_be_asked_for_twice(stage: Any, key: str) -> None:
    """Then the engine stops, and its last word is the result."""
    app = stage.app()
    async with app.run_test() as pilot:
        await pilot.press(key)
        assert stage.engine.stops == 0
        assert "again" in app.screen.query_one(NoticeLine).text
        stage.clock.now_s = TWICE_S - 0.1
        await pilot.press(key)
        await pilot.pause()
        assert stage.engine.stops == 1
    assert app.return_value == Closed(None, finished=False)


async def test_a_second_wish_that_comes_too_late_is_a_first_one(stage: Any) -> None:
    """An elbow on the keyboard does not end an inspection."""
    app = stage.app()
    async with app.run_test() as pilot:
        await pilot.press("q")
        stage.clock.now_s = TWICE_S + 0.1
        await pilot.press("q")
        assert stage.engine.stops == 0


async def test_the_screen_says_that_it_waits_for_the_engine(stage: Any) -> None:
    """What is still being written is written; leaving with the line open works too."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.engine.answers_stop = False
        await pilot.press("t", "ctrl+q", "ctrl+q")
        await pilot.pause()
        assert app.screen.query_one(StateBanner).look is LEAVING
        last = Closed(None, False, "the disk is full", 7)
        stage.say(last)
        await pilot.pause()
    assert app.return_value == last


async def test_an_engine_that_never_answers_does_not_hold_the_terminal(
    stage: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a while the screen goes, without a result."""
    monkeypatch.setattr("voicelog.tui.app.STOP_S", 0.05)
    app = stage.app()
    async with app.run_test() as pilot:
        stage.engine.answers_stop = False
        await pilot.press("q", "q")
        await pilot.pause(0.2)
        assert not app.is_running or app._exit
    assert app.return_value is None


async def test_a_finished_inspection_stays_to_be_read(stage: Any) -> None:
    """Nobody may be near the screen when it ends by voice; a key leaves."""
    app = stage.app(linger_s=3600.0)
    last = Closed(None, finished=True)
    async with app.run_test() as pilot:
        stage.say(*stage.story(), StateChanged(State.FINISHED), last)
        await pilot.pause()
        assert app.screen.query_one(StateBanner).look.word == "DONE"
        await pilot.press("q")
        await pilot.pause()
    assert app.return_value == last


async def test_a_finished_inspection_leaves_by_itself(stage: Any) -> None:
    """So that a script goes on."""
    app = stage.app(linger_s=0.05)
    last = Closed(None, finished=True)
    async with app.run_test() as pilot:
        stage.say(last)
        await pilot.pause(0.2)
    assert app.return_value == last
