"""Another recogniser on the entry that is looked at: proposed, taken or left, called off."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event
from typing import Any

import pytest

from voicelog.domain.heard import Heard
from voicelog.errors import EarFault
from voicelog.recognise.port import Expected
from voicelog.tui.review.alternatives_dialog import AlternativesDialog
from voicelog.tui.review.say_line import SayLine
from voicelog.tui.review.waiting_dialog import WaitingDialog

pytestmark = pytest.mark.asyncio
SIZE = (100, 30)
SEAL = "right seal, hole twenty mil"


class OtherEar:
    """Hears the same in every clip, once it may.

    Args:
        heard: what it hears.
        go_on: until then it hears nothing.
    """

    engine, model = "second", "other"

    def __init__(self, heard: Heard, go_on: Event) -> None:
        self._heard, self._go_on, self.closed = heard, go_on, False

    def expect(self, expected: Expected) -> None:
        """Whatever it is."""

    def feed(self, pcm: bytes) -> None:
        """Any sound will do."""

    def finish(self) -> Heard:
        """Wait, then tell it."""
        self._go_on.wait(5)
        return self._heard

    def close(self) -> None:
        """Noted."""
        self.closed = True


@pytest.fixture
def other_ear(
    monkeypatch: pytest.MonkeyPatch, heard: Any
) -> Callable[[str], tuple[OtherEar, Event]]:
    """Puts an ear that hears this in the place of the second one."""

    def put(text: str) -> tuple[OtherEar, Event]:
        go_on = Event()
        ear = OtherEar(heard(text), go_on)
        monkeypatch.setattr("voicelog.recognise.lookup.open_ear", lambda *_, **__: ear)
        return ear, go_on

    return put


def said(app: Any) -> str:
    """The line under the table."""
    return str(app.review_screen.query_one(SayLine).text)


async def test_what_it_proposes_is_taken_only_when_wanted(
    tablefor: Any, settle: Any, wait_until: Any, other_ear: Any
) -> None:
    """It is waited for in sight, listed as a whole entry, and written with one key."""
    ear, go_on = other_ear("right sill, hole thirty mil")
    table = tablefor(SEAL)
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        lines = len(table.log.facts)
        await pilot.press("h")
        await wait_until(pilot, lambda: isinstance(app.screen, WaitingDialog))
        go_on.set()
        await wait_until(pilot, lambda: isinstance(app.screen, AlternativesDialog))
        assert len(table.log.facts) == lines
        assert ear.closed
        await pilot.press("1")
        await wait_until(pilot, lambda: len(table.log.facts) == lines + 1)
        assert table.log.finding("e2.1").entry.slots["size_mm"] == 30
        assert "corrected" in said(app)


async def test_it_can_be_called_off(tablefor: Any, wait_until: Any, other_ear: Any) -> None:
    """Nothing comes up later, no key was lost to another entry, and nothing was written."""
    _, go_on = other_ear("right sill, hole thirty mil")
    table = tablefor(SEAL)
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        lines = len(table.log.facts)
        await pilot.press("h")
        await wait_until(pilot, lambda: isinstance(app.screen, WaitingDialog))
        await pilot.press("h", "w", "escape")
        await wait_until(pilot, lambda: "Called off" in said(app))
        go_on.set()
        await pilot.pause(0.2)
        assert app.screen is app.review_screen
        assert len(table.log.facts) == lines


async def test_the_same_is_told(tablefor: Any, wait_until: Any, other_ear: Any) -> None:
    """Nothing to choose from needs no dialog."""
    _, go_on = other_ear(SEAL)
    go_on.set()
    app = tablefor(SEAL).app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("h")
        await wait_until(pilot, lambda: "nothing would be different" in said(app))
        assert app.screen is app.review_screen


async def test_without_another_recogniser_the_words_are_read_anew(
    tablefor: Any, wait_until: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And that is said."""

    def none(*_: Any, **__: Any) -> Any:
        raise EarFault("There is no second recogniser", "Install it")

    monkeypatch.setattr("voicelog.recognise.lookup.open_ear", none)
    app = tablefor(SEAL).app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("h")
        await wait_until(pilot, lambda: "by its words alone" in said(app))
        assert "There is no second recogniser" in said(app)


async def test_leaving_while_it_hears_is_clean(
    tablefor: Any, wait_until: Any, other_ear: Any
) -> None:
    """The thread ends by itself; the log is whole and free."""
    _, go_on = other_ear("right sill, hole thirty mil")
    table = tablefor(SEAL)
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("h")
        await wait_until(pilot, lambda: isinstance(app.screen, WaitingDialog))
        await pilot.press("escape", "q")
        go_on.set()
    assert app.return_code == 0
    assert table.log.facts[-1].type != "revised"
