"""A correction that a mishearing explains: it is asked about, and written only when wanted."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from voicelog.tui.review.learn_dialog import LearnDialog

pytestmark = pytest.mark.asyncio
SIZE = (120, 40)


async def correct(pilot: Any, settle: Any) -> None:
    """Give the first entry the condition that was misheard."""
    await pilot.press("e", "c")
    await settle(pilot)
    await pilot.press(*"pitting", "enter")


async def test_a_mishearing_can_be_remembered(
    tablefor: Any, settle: Any, wait_until: Any, tmp_path: Path
) -> None:
    """For the shop: in its file, and in the log who did so."""
    folder = tmp_path / "learned"
    table = tablefor("left front rail, bitting, metal is firm", "right rear rail, bitting")
    app = table.app(learned=folder)
    async with app.run_test(size=SIZE) as pilot:
        await correct(pilot, settle)
        await wait_until(pilot, lambda: isinstance(app.screen, LearnDialog))
        await pilot.press("s", "enter")
        await wait_until(pilot, lambda: table.log.facts[-1].type == "learned")
        assert table.log.facts[-1].body["heard"] == "bitting"
        assert "bitting" in (folder / "learned-shop.toml").read_text(encoding="utf-8")


async def test_not_at_all_writes_nothing(
    tablefor: Any, settle: Any, wait_until: Any, tmp_path: Path
) -> None:
    """The correction stands."""
    folder = tmp_path / "learned"
    table = tablefor("left front rail, bitting, metal is firm")
    app = table.app(learned=folder)
    async with app.run_test(size=SIZE) as pilot:
        await correct(pilot, settle)
        await wait_until(pilot, lambda: isinstance(app.screen, LearnDialog))
        await pilot.press("escape")
        await settle(pilot)
        assert table.log.finding("e2.1").entry.slots["condition"] == "pitting"
        assert table.log.facts[-1].type == "revised"
        assert not folder.exists()


async def test_nothing_is_asked_where_nothing_was_misheard(
    tablefor: Any, settle: Any, tmp_path: Path
) -> None:
    """Who thinks better of it was heard rightly; and typed words are not heard at all."""
    for spoken in (True, False):
        table = tablefor("left front rail, surface rust", spoken=spoken)
        app = table.app(learned=tmp_path / "learned")
        async with app.run_test(size=SIZE) as pilot:
            await correct(pilot, settle)
            await settle(pilot, 0.6)
            assert app.screen is app.review_screen
