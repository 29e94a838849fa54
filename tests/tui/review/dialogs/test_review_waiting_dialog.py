"""Work that takes seconds: told, counted, called off."""

from __future__ import annotations

from threading import Event
from typing import Any

import pytest

from voicelog.errors import EarFault
from voicelog.tui.review.waiting_dialog import Stopped, Tell, WaitingDialog

pytestmark = pytest.mark.asyncio


def dialog(work: Any, seconds: list[float] | None = None) -> WaitingDialog[str]:
    """The time is a list that a test changes."""
    now = seconds or [0.0]
    return WaitingDialog("HEAR IT ANEW", "It is made ready …", work, clock=lambda: now[0])


async def test_it_tells_what_is_done_and_for_how_long(stand: Any, wait_until: Any) -> None:
    """And gives back what comes of it."""
    now, go_on = [0.0], Event()

    def work(tell: Tell, _stopped: Stopped) -> str:
        tell("It is heard …")
        go_on.wait(5)
        return "sill"

    host = stand.host(dialog(work, now))
    async with host.run_test(size=(80, 24)) as pilot:
        now[0] = 3.4
        await wait_until(pilot, lambda: "It is heard …" in stand.text_of(host))
        assert "It is heard …  3 s" in stand.text_of(host)
        assert "Esc calls it off" in stand.text_of(host)
        go_on.set()
        await wait_until(pilot, lambda: host.answer == "sill")


async def test_escape_calls_it_off(stand: Any, wait_until: Any) -> None:
    """At once; the thread is told, and what it says then is nobody's business."""
    ended = Event()

    def work(_tell: Tell, stopped: Stopped) -> str:
        while not stopped():
            pass
        ended.set()
        raise EarFault("It was called off")

    asked = dialog(work)
    host = stand.host(asked)
    async with host.run_test(size=(80, 24)) as pilot:
        await pilot.press("escape")
        assert host.answer is None
        await wait_until(pilot, ended.is_set)
        assert asked.fault is None


async def test_what_goes_wrong_is_handed_on(stand: Any, wait_until: Any) -> None:
    """To whoever asked."""

    def work(_tell: Tell, _stopped: Stopped) -> str:
        raise EarFault("There is no recogniser", "Install one")

    asked = dialog(work)
    host = stand.host(asked)
    async with host.run_test(size=(80, 24)) as pilot:
        await wait_until(pilot, lambda: host.answer is None)
        assert str(asked.fault) == "There is no recogniser. Install one"
