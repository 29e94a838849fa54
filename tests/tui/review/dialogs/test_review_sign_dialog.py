"""Signing: what is open is read, a name is there, a reason where one is needed."""

from __future__ import annotations

import re
from typing import Any

import pytest

from voicelog.tui.review.sign_dialog import MEANING, SignDialog, Signed

pytestmark = pytest.mark.asyncio


OPEN = [f"e{n}.1 is doubtful and nobody has listened to it" for n in range(1, 31)]
SUMMARY = ("pickup 12, 44 entries, 3 unsafe",)


async def test_nothing_open_needs_a_name_only(stand: Any) -> None:
    """That of the settings is there to begin with."""
    host = await stand.ask(SignDialog("A. Tester", [], SUMMARY), "enter")
    assert host.answer == Signed("A. Tester")
    assert "nothing: every open point" in (await stand.ask(SignDialog("", [], SUMMARY))).text


async def test_open_points_need_a_reason(stand: Any) -> None:
    """Enter in either field says so, and goes to the field that is empty."""
    host = await stand.ask(SignDialog("A. Tester", OPEN, SUMMARY), "enter")
    assert host.answer == stand.STILL_OPEN
    assert "Type why it is signed all the same" in host.text
    signed = await stand.ask(
        SignDialog("A. Tester", OPEN, SUMMARY), "enter", " it is dark", "enter"
    )
    assert signed.answer == Signed("A. Tester", "it is dark")


async def test_a_name_is_always_needed(stand: Any) -> None:
    """Blanks are none."""
    host = await stand.ask(SignDialog("", [], SUMMARY), "space", "enter")
    assert host.answer == stand.STILL_OPEN
    assert "A name is needed" in host.text


async def test_the_name_can_be_changed(stand: Any) -> None:
    """Somebody else may sign."""
    host = await stand.ask(SignDialog("A. Tester", [], SUMMARY), "ctrl+u", " B. Other", "enter")
    assert host.answer == Signed("B. Other")


async def test_tab_goes_between_name_and_reason(stand: Any) -> None:
    """The first empty field has the focus, and the list is no stop on the way."""
    keys = (" why not", "tab", "ctrl+u", " C", "enter")
    host = await stand.ask(SignDialog("A. Tester", OPEN, SUMMARY), *keys)
    assert host.answer == Signed("C", "why not")


async def test_all_open_points_can_be_read_while_typing(stand: Any) -> None:
    """There is a count, and the arrows reach the last."""
    first = await stand.ask(SignDialog("A. Tester", OPEN, SUMMARY))
    assert "open: 30" in first.text
    assert "e1.1 is doubtful" in first.text
    last = await stand.ask(SignDialog("A. Tester", OPEN, SUMMARY), *["pagedown"] * 6)
    assert "e30.1 is doubtful" in last.text


@pytest.mark.parametrize("points", [[], OPEN])
async def test_it_says_what_a_signature_is_not(stand: Any, points: list[str]) -> None:
    """It shows change; it never says that anything is safe, passed, roadworthy or certified."""
    text = (await stand.ask(SignDialog("A. Tester", points, SUMMARY), "enter")).text
    if not points:
        text = (await stand.ask(SignDialog("", points, SUMMARY), "enter")).text
    assert MEANING in text
    assert "certifies nothing" in MEANING
    assert not re.search(r"\b(safe|passed|roadworthy|certified)\b", text.lower())
