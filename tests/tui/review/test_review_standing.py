"""How the whole log stands, where the window has room for it."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.runtime.review import Review
from voicelog.tui.review.say_line import SayLine
from voicelog.tui.review.standing_view import StandingView
from voicelog.tui.review.waiting_dialog import WaitingDialog

pytestmark = pytest.mark.asyncio


def standing(app: Any) -> str:
    """What it says."""
    return str(app.review_screen.query_one(StandingView).render())


async def test_a_large_window_tells_verdict_and_open_points(tablefor: Any, wait_until: Any) -> None:
    """Anew after every deed, once the cursor rests; a small window has no room for it."""
    app = tablefor("steering box mount, crack").app()
    async with app.run_test(size=(160, 50)) as pilot:
        await wait_until(pilot, lambda: "OPEN  7;" in standing(app))
        assert "do not drive" in standing(app)
        assert "crack is unsafe, and there is no photo of it" in standing(app)
        await pilot.press("a")
        await pilot.pause(0.1)
        await pilot.press(*"photo of the steering box mount", "enter")
        await wait_until(pilot, lambda: "OPEN  6;" in standing(app))
        await pilot.resize_terminal(80, 24)
        await pilot.pause(0.1)
        assert not app.review_screen.query_one(StandingView).is_on_screen


async def test_what_has_no_room_is_counted(tablefor: Any, wait_until: Any) -> None:
    """Nothing is left out in silence."""
    places = ("steering box mount", "left front rail", "right front rail", "left rear rail",
              "right rear rail", "left control arm mount", "right control arm mount",
              "left rear spring hanger", "right rear spring hanger", "left sill", "right sill")  # fmt: skip
    app = tablefor(*(f"{place}, crack" for place in places)).app()
    async with app.run_test(size=(160, 50)) as pilot:
        await wait_until(pilot, lambda: "OPEN" in standing(app))
        lines = standing(app).splitlines()
        count = int(lines[1].split()[1].rstrip(";"))
        assert len(lines) == 11
        assert lines[-1] == f"  and {count - 8} more"


async def test_a_dialog_that_comes_up_by_itself_waits_its_turn(
    tablefor: Any, wait_until: Any
) -> None:
    """Somebody may be typing; the letters are meant for what is there."""
    app = tablefor("left sill, hole").app()
    async with app.run_test(size=(80, 24)) as pilot:
        asked = [
            WaitingDialog[str](name, name, lambda _, stopped: _until(stopped)) for name in "ab"
        ]
        for dialog in asked:
            app.run_worker(app.bench.ask(dialog))
        await wait_until(pilot, lambda: app.screen is asked[0])
        assert len(app.screen_stack) == 2
        await pilot.press("escape")
        await wait_until(pilot, lambda: app.screen is asked[1])
        await pilot.press("escape")
        await wait_until(pilot, lambda: app.screen is app.review_screen)


def _until(stopped: Any) -> str:
    while not stopped():
        pass
    return ""


async def test_nothing_open_is_told_without_a_dialog(
    tablefor: Any, wait_until: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The line names the next step."""
    monkeypatch.setattr(Review, "open_points", lambda _: ())
    app = tablefor("left front rail, surface rust, metal is firm").app()
    async with app.run_test(size=(160, 50)) as pilot:
        await wait_until(pilot, lambda: "OPEN  nothing; S signs the log" in standing(app))
        await pilot.press("i")
        await wait_until(pilot, lambda: bool(_line(app)))
        assert "Nothing is open" in _line(app)


def _line(app: Any) -> str:
    return str(app.review_screen.query_one(SayLine).text)


async def test_leaving_while_it_plays_is_clean(tablefor: Any, wait_until: Any) -> None:
    """The cursor that moves through the sound does not look for a screen that has gone."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("space")
        await wait_until(pilot, lambda: bool(table.deck.played))
        for child in list(app.review_screen.children):
            await child.remove()
        app.listening.follow()
        app.bench.say("too late")
    assert app.return_code in (0, None)
