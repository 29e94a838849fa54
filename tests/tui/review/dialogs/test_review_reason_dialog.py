"""Why something is done: a reason that is never empty."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.tui.review.reason_dialog import ReasonDialog

pytestmark = pytest.mark.asyncio


def dialog() -> ReasonDialog:
    """About to call an unsafe entry less."""
    return ReasonDialog("e12.1 would no longer be unsafe. It would be treat.", "a hole, 25 mm")


async def test_it_says_what_would_happen(stand: Any) -> None:
    """The question and its detail."""
    text = (await stand.ask(dialog())).text
    assert "e12.1 would no longer be unsafe. It would be treat." in text
    assert "a hole, 25 mm" in text


@pytest.mark.parametrize("typed", [(), ("space", "space")])
async def test_nothing_and_blanks_are_no_reason(stand: Any, typed: tuple[str, ...]) -> None:
    """It stays open and says what is missing, until somebody types."""
    host = await stand.ask(dialog(), *typed, "enter")
    assert host.answer == stand.STILL_OPEN
    assert "A reason is needed" in host.text
    assert "A reason is needed" not in (await stand.ask(dialog(), *typed, "enter", "x")).text


async def test_a_reason_is_given_back_without_blanks_around_it(stand: Any) -> None:
    """As it was typed else."""
    host = await stand.ask(dialog(), "  it was the Drain hole ", "enter")
    assert host.answer == "it was the Drain hole"
