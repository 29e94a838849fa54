"""A sentence typed anew, and how it would be read."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.errors import UsageFault
from voicelog.tui.review.sentence_dialog import Said, SentenceDialog

pytestmark = pytest.mark.asyncio


def dialog(asked: list[str], *, trouble: str = "", wait_s: float = 0.01) -> SentenceDialog:
    """It notes what it is asked to read."""

    def preview(text: str) -> list[str]:
        asked.append(text)
        if "?" in text:
            raise UsageFault("That is a question", "Say what is there")
        return [f"read: {text}", "treat"]

    text = "left seal rust"
    return SentenceDialog(
        "RETYPE e3.1", text, text=text, trouble=trouble, preview=preview, wait_s=wait_s
    )


async def test_it_begins_with_what_was_heard_and_how_that_is_read(stand: Any) -> None:
    """The cursor at its end, so that the last word is at hand."""
    asked: list[str] = []
    host = await stand.ask(dialog(asked), "enter")
    assert host.answer == Said("left seal rust")
    assert asked[0] == "left seal rust"
    assert "read: left seal rust" in (await stand.ask(dialog([]))).text


async def test_it_is_read_again_once_the_typing_rests(stand: Any) -> None:
    """Once for several letters, not once for each."""
    asked: list[str] = []
    host = stand.host(dialog(asked, wait_s=0.1))
    async with host.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press(*"y bits")
        assert asked == ["left seal rust"]
        await pilot.pause(0.2)
        assert asked == ["left seal rust", "left seal rusty bits"]
        assert "read: left seal rusty bits" in stand.text_of(host)


async def test_a_sentence_that_cannot_be_read_says_why(stand: Any) -> None:
    """And stays on the line."""
    host = stand.host(dialog([]))
    async with host.run_test(size=(80, 24)) as pilot:
        await pilot.press("?")
        await pilot.pause(0.05)
        assert "! That is a question. Say what is there" in stand.text_of(host)
        assert "left seal rust?" in stand.text_of(host)


async def test_an_empty_sentence_is_not_taken(stand: Any) -> None:
    """Withdrawing an entry is another thing."""
    host = await stand.ask(dialog([]), "ctrl+u", "enter")
    assert host.answer == stand.STILL_OPEN
    assert "There is no sentence yet" in host.text


async def test_it_can_be_spoken_instead(stand: Any) -> None:
    """What stands on the line is kept meanwhile."""
    host = await stand.ask(dialog([]), "y", "ctrl+r")
    assert host.answer == Said("left seal rusty", dictate=True)


async def test_why_it_could_not_be_spoken_stays_until_somebody_types(stand: Any) -> None:
    """The line as it was put there is no typing."""
    host = stand.host(dialog([], trouble="There is no microphone"))
    async with host.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.05)
        assert "! There is no microphone" in stand.text_of(host)
        await pilot.press("y")
        await pilot.pause(0.05)
        assert "There is no microphone" not in stand.text_of(host)
