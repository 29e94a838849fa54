"""A sentence typed anew, and how it would be read."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.errors import UsageFault
from voicelog.tui.review.sentence_dialog import Said, SentenceDialog

pytestmark = pytest.mark.asyncio


def dialog(asked: list[str], *, dictate: bool = True, wait_s: float = 0.01) -> SentenceDialog:
    """It notes what it is asked to read."""

    def preview(text: str) -> list[str]:
        asked.append(text)
        if "?" in text:
            raise UsageFault("That is a question", "Say what is there")
        return [f"read: {text}", "treat"]

    return SentenceDialog(
        "RETYPE e3.1", "left seal rust", preview=preview, dictate=dictate, wait_s=wait_s
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


async def test_it_can_be_spoken_instead_where_that_is_offered(stand: Any) -> None:
    """Without a microphone the key is neither told nor does it anything."""
    assert (await stand.ask(dialog([]), "ctrl+r")).answer == Said("", dictate=True)
    host = await stand.ask(dialog([], dictate=False), "ctrl+r")
    assert host.answer == stand.STILL_OPEN
    assert "Ctrl+R" not in host.text
