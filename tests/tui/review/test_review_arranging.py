"""Whole entries: split, merge, move, withdraw, undo across restarts, sign."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.tui.review.detail_pane import DetailPane
from voicelog.tui.review.head_line import HeadLine
from voicelog.tui.review.open_dialog import OpenDialog
from voicelog.tui.review.place_dialog import PlaceDialog
from voicelog.tui.review.say_line import SayLine
from voicelog.tui.review.sign_dialog import SignDialog

pytestmark = pytest.mark.asyncio
SIZE = (120, 40)


def detail(app: Any) -> str:
    """The entry's pane without its line breaks."""
    return " ".join(app.review_screen.query_one(DetailPane).text().split())


def said(app: Any) -> str:
    """The line under the table."""
    return str(app.review_screen.query_one(SayLine).text)


def ids(app: Any) -> list[str]:
    """The entries that are shown."""
    return [finding.entry.id for finding in app.looking.listing.shown]


async def test_an_entry_is_split_at_the_word_in_brackets(tablefor: Any, settle: Any) -> None:
    """Each half is read by itself."""
    table = tablefor("left front rail hole left rear rail scale")
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        before = ids(app)
        await pilot.press(*["right"] * 4, "s")
        await settle(pilot)
        zones = [table.log.finding(name).entry.slots.get("zone") for name in ids(app)]
        assert len(ids(app)) > len(before)
        assert {"front-rail", "rear-rail"} <= set(zones)


async def test_both_sides_become_left_and_right(tablefor: Any, settle: Any) -> None:
    """With the brackets on the first word."""
    table = tablefor("both front rails, scale")
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        await settle(pilot)
        sides = [table.log.finding(name).entry.slots["side"] for name in ids(app)]
        assert sorted(sides) == ["left", "right"]


async def test_two_entries_are_merged(tablefor: Any, settle: Any) -> None:
    """Mark the one that goes, stand on the one that stays."""
    table = tablefor("left cab mount, scale", "left cab mount, hole")
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("j")
        await settle(pilot)
        assert "Merging needs one other entry" in said(app)
        await pilot.press("m", "j")
        await settle(pilot)
        assert table.log.finding("e2.1").withdrawn
        assert not table.log.finding("e3.1").withdrawn
        assert not app.looking.picked


async def test_a_whole_run_moves_at_once(tablefor: Any, settle: Any) -> None:
    """Several marked, one dialog, one line in the log."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("m", "m", "m", "g")
        await settle(pilot)
        assert isinstance(app.screen, PlaceDialog)
        await pilot.press("z")
        await settle(pilot)
        await pilot.press(*"rear rail", "enter")
        await settle(pilot)
        lines = len(table.log.facts)
        await pilot.press("enter")
        await settle(pilot)
        assert len(table.log.facts) == lines + 1
        moved = [table.log.finding(name).entry.slots["zone"] for name in ("e2.1", "e3.1", "e4.1")]
        assert moved == ["rear-rail"] * 3
        await pilot.press("u")
        await settle(pilot)
        assert table.log.finding("e3.1").entry.slots["zone"] == "sill"


async def test_withdrawn_entries_are_shown_and_hold_again(tablefor: Any, settle: Any) -> None:
    """The same key, with a word for it in the table."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("w")
        await settle(pilot)
        assert table.log.finding("e2.1").withdrawn
        assert "e2.1" in ids(app)
        await pilot.press("w")
        await settle(pilot)
        assert not table.log.finding("e2.1").withdrawn


async def test_undo_and_redo_reach_across_restarts(tablefor: Any, settle: Any) -> None:
    """What was done yesterday is taken back today."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("w", "down", "w")
        await settle(pilot)
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("u", "u")
        await settle(pilot)
        assert not table.log.finding("e2.1").withdrawn
        assert not table.log.finding("e3.1").withdrawn
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("U")
        await settle(pilot)
        assert table.log.finding("e2.1").withdrawn
        assert app.looking.listing.current == "e2.1"
        told = detail(app)
        assert "did again “withdrew it”" in told
        assert "took back “withdrew it”" in told


async def test_signing_lists_what_is_open(tablefor: Any, settle: Any) -> None:
    """A typed reason is needed; then the head says who and when, and counts what comes after."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=(160, 50)) as pilot:
        await pilot.press("S")
        await settle(pilot)
        assert isinstance(app.screen, SignDialog)
        await pilot.press("enter")
        await settle(pilot)
        assert isinstance(app.screen, SignDialog)
        assert not table.log.signatures()
        await pilot.press(*"no borescope", "enter")
        await settle(pilot)
        assert table.log.signatures()[-1].why == "no borescope"
        assert "SIGNED Sam" in str(app.review_screen.query_one(HeadLine).render())
        await pilot.press("w")
        await settle(pilot)
        assert "1 change since" in str(app.review_screen.query_one(HeadLine).render())
        told = detail(app)
        assert "Δ changed after signing" in told


async def test_an_open_point_leads_to_its_entry(tablefor: Any, settle: Any) -> None:
    """Also where the filters hide it."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("slash", *"cab", "enter", "i")
        await settle(pilot)
        assert isinstance(app.screen, OpenDialog)
        points = table.log.open_points()
        at = next(n for n, point in enumerate(points) if point.entry == "e4.1")
        await pilot.press(*["down"] * at, "enter")
        await settle(pilot)
        assert app.looking.listing.current == "e4.1"


async def test_a_reason_is_asked_for_once(tablefor: Any, settle: Any) -> None:
    """A move that softens several entries asks one question."""
    table = tablefor("steering box mount, crack", "left control arm mount, crack")
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("m", "m", "w", *"seams", "enter")
        await settle(pilot)
        assert [table.log.finding(name).withdrawn for name in ("e2.1", "e3.1")] == [True, True]
        assert table.log.facts[-1].body["why"] == "seams"
