"""Whether a mishearing is remembered, and for whom."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.tui.review.learn_dialog import LearnDialog

pytestmark = pytest.mark.asyncio


def dialog(*would_change: str, refused: str = "") -> LearnDialog:
    """Of the word that gave the issue its name."""
    return LearnDialog("seal", "sill", would_change, refused)


@pytest.mark.parametrize(("key", "answer"), [("s", "shop"), ("p", "person"), ("n", None)])
async def test_a_letter_says_for_whom(stand: Any, key: str, answer: str | None) -> None:
    """For everybody, for one, for nobody; and Enter does it.

    The dialog comes up by itself: a letter that was meant for the screen below changes nothing.
    """
    assert (await stand.ask(dialog(), key)).answer == stand.STILL_OPEN
    assert (await stand.ask(dialog(), key, "enter")).answer == answer


async def test_enter_at_once_remembers_nothing(stand: Any) -> None:
    """Whoever presses Enter out of habit has not changed the shop's vocabulary."""
    assert (await stand.ask(dialog(), "enter")).answer is None
    assert (await stand.ask(dialog(), "down", "enter")).answer == "shop"


async def test_it_tells_what_else_would_change(stand: Any) -> None:
    """Or that nothing else would."""
    text = (await stand.ask(dialog("e3.1 left seal rust: sill, surface rust"))).text
    assert "heard “seal”, meant “sill”" in text
    assert "e3.1 left seal rust: sill, surface rust" in text
    assert "nothing else in this log" in (await stand.ask(dialog())).text


async def test_many_changes_can_be_read_to_the_last(stand: Any) -> None:
    """The arrows stay with the offers."""
    told = [f"e{n}.1 changes" for n in range(1, 40)]
    host = await stand.ask(dialog(*told), *["pagedown"] * 12)
    assert "e39.1 changes" in host.text
    assert host.answer == stand.STILL_OPEN


@pytest.mark.parametrize("key", ["s", "p", "down", "up"])
async def test_what_would_break_a_right_reading_cannot_be_learned(stand: Any, key: str) -> None:
    """The example is shown; no key leads around it."""
    refused = "“the door seal is torn” would be read as sill, torn"
    host = await stand.ask(dialog(refused=refused), key)
    assert refused in host.text
    assert host.answer == stand.STILL_OPEN
    assert "for this shop" not in host.text
    assert (await stand.ask(dialog(refused=refused), key, "enter")).answer is None
