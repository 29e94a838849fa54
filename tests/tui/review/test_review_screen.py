"""Going through a log: the table, the entry beside it, filters, order, words."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.review.order import Order
from voicelog.tui.review.detail_pane import DetailPane
from voicelog.tui.review.entry_table import EntryTable
from voicelog.tui.review.filter_dialog import FilterDialog
from voicelog.tui.review.filter_line import FilterLine
from voicelog.tui.review.head_line import HeadLine
from voicelog.tui.review.review_help import ReviewHelp
from voicelog.tui.review.say_line import SayLine
from voicelog.tui.review.wave_view import WaveView

pytestmark = pytest.mark.asyncio

SIZES = [(80, 24), (160, 50)]


def table_text(app: Any) -> str:
    """What the table shows, line by line."""
    table = app.review_screen.query_one(EntryTable)
    return "\n".join(table.render_line(y).text for y in range(table.size.height))


def detail_text(app: Any) -> str:
    """What the entry's pane says, scrolled or not."""
    return app.review_screen.query_one(DetailPane).text()


@pytest.mark.parametrize("size", SIZES)
async def test_every_entry_has_its_row(tablefor: Any, settle: Any, size: tuple[int, int]) -> None:
    """Id, grade with its sign, place, what, size, and marks; the first one is looked at."""
    app = tablefor().app()
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        rows = table_text(app).splitlines()
        assert rows[0].split()[:4] in (
            ["id", "grade", "place", "what"],
            ["id", "time", "grade", "place"],
        )
        assert rows[1].startswith("▸ e2.1")
        assert "~ COSMETIC" in rows[1]
        assert "left front rail" in rows[1]
        assert "surface rust" in rows[1]
        assert "# REPAIR" in rows[2]
        assert "20 mm" in rows[2]
        doubtful = next(row for row in rows if "e4.1" in row)
        assert doubtful.split("10 mm")[1].strip().startswith("?♪")


async def test_the_entry_is_told_whole(tablefor: Any, settle: Any) -> None:
    """Faint words marked, doubts, other readings as whole entries with their grade, rules."""
    app = tablefor().app()
    async with app.run_test(size=(160, 50)) as pilot:
        await pilot.press("down")
        await settle(pilot)
        told = detail_text(app)
        assert "[right] seal,?? hole twenty mil" in told
        titled = str(app.review_screen.query_one("#entry-title").render())
        assert "right sill — hole, 20 mm" in titled
        await pilot.press("down")
        await settle(pilot)
        told = detail_text(app)
        assert "? another reading fits nearly as well" in told
        assert "OR 1" in told
        assert "left rear rail — hole, 10 mm" in told
        assert "OR 2" in told
        assert "left front rail — scale" in told
        assert "♪ sound kept" in told
        assert "? doubtful" in told
        assert "WHY" in told
        assert "hole" in told.split("WHY")[1]


async def test_filters_stack_and_say_what_each_hides(tablefor: Any, settle: Any) -> None:
    """Doubtful and unsafe by one key each; the line counts."""
    app = tablefor("steering box mount, crack").app()
    async with app.run_test(size=(160, 50)) as pilot:
        line = app.review_screen.query_one(FilterLine)
        await pilot.press("x")
        assert len(app.looking.listing.shown) == 1
        await pilot.press("d")
        assert app.looking.listing.shown == ()
        assert "No entry is shown" in table_text(app)
        told = str(line.render())
        assert "0 of 1 shown" in told
        assert "1 hidden: only doubtful (1), only unsafe (0)" in told
        assert "only unsafe" in told
        await pilot.press("e", "c", "w", "space", "r")
        await settle(pilot)
        assert app.screen is app.review_screen
        assert "no entry here" in app.review_screen.query_one(SayLine).text
        await pilot.press("d", "x")
        assert len(app.looking.listing.shown) == 1


async def test_the_dialog_of_filters_counts_before_it_is_left(tablefor: Any, settle: Any) -> None:
    """And Escape leaves everything as it was."""
    app = tablefor().app()
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.press("f")
        assert isinstance(app.screen, FilterDialog)
        await pilot.press("d")
        assert "1 of 10 shown" in str(app.screen.query_one("#told").render())
        await pilot.press("escape")
        await settle(pilot)
        assert len(app.looking.listing.shown) == 10
        await pilot.press("f", "d", "enter")
        await settle(pilot)
        assert [f.entry.id for f in app.looking.listing.shown] == ["e4.1"]


async def test_words_are_looked_for(tablefor: Any, settle: Any) -> None:
    """A slash, the words, Enter; an empty search shows all."""
    app = tablefor().app()
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.press("slash", *"cab", "enter")
        await settle(pilot)
        assert [f.entry.id for f in app.looking.listing.shown] == ["e8.1", "e10.1"]
        await pilot.press("slash", "ctrl+d")
        await settle(pilot)
        assert len(app.looking.listing.shown) == 10


async def test_the_cursor_stays_on_its_entry(tablefor: Any, settle: Any) -> None:
    """Through sorting, filtering and corrections."""
    app = tablefor().app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "down", "down", "down")
        assert app.looking.listing.current == "e5.2"
        for order in (Order.ZONE, Order.GRADE, Order.TIME):
            await pilot.press("z")
            assert app.looking.listing.order is order
            assert app.looking.listing.current == "e5.2"
            assert "▸ e5.2" in table_text(app)
        await pilot.press("slash", *"right", "enter")
        await settle(pilot)
        assert app.looking.listing.current == "e5.2"
        await pilot.press("w")
        await settle(pilot)
        assert app.looking.listing.current == "e5.2"
        assert "– WITHDRAWN" in table_text(app)


async def test_next_doubt_goes_round(tablefor: Any, settle: Any) -> None:
    """From below the last one it begins at the top."""
    app = tablefor(
        "left front rail, scale", "left sill, hole | right sill, hole", "left sill, crack"
    ).app()
    async with app.run_test(size=(80, 24)) as pilot:
        doubtful = [f.entry.id for f in app.looking.listing.shown if f.entry.doubtful]
        assert doubtful == ["e3.1"]
        await pilot.press("end", "n")
        await settle(pilot)
        assert app.looking.listing.current == "e3.1"
        await pilot.press("c")
        await settle(pilot)
        await pilot.press("n")
        await settle(pilot)
        assert "No entry that is shown is doubtful" in app.review_screen.query_one(SayLine).text


async def test_keys_page_through_the_table(tablefor: Any, settle: Any) -> None:
    """Home, End, pages, and the mouse; the row in hand is always in sight."""
    app = tablefor(*["left front rail, scale"] * 40).app()
    async with app.run_test(size=(80, 24)) as pilot:
        table = app.review_screen.query_one(EntryTable)
        await pilot.press("end")
        assert app.looking.listing.at == 39
        assert "▸ e41.1" in table_text(app)
        await pilot.press("pageup")
        assert 30 < app.looking.listing.at < 39
        assert "▸" in table_text(app)
        await pilot.press("home")
        assert app.looking.listing.at == 0
        await pilot.click(table, offset=(10, 3))
        assert app.looking.listing.current == "e4.1"


async def test_the_entry_can_have_the_room(tablefor: Any, settle: Any) -> None:
    """Enter gives it most of a small window, and takes it back."""
    app = tablefor().app()
    async with app.run_test(size=(80, 24)) as pilot:
        pane = app.review_screen.query_one(DetailPane)
        small = pane.size.height
        await pilot.press("enter")
        await settle(pilot)
        assert pane.size.height >= small + 4
        assert "▸ e2.1" in table_text(app)
        await pilot.press("enter")
        await settle(pilot)
        assert pane.size.height == small


async def test_the_head_names_the_log(tablefor: Any) -> None:
    """Subject, day, numbers, reviewer, and that nobody has signed."""
    app = tablefor().app()
    async with app.run_test(size=(160, 50)):
        told = str(app.review_screen.query_one(HeadLine).render())
        assert "pickup 12" in told
        assert "10 entries" in told
        assert "1 doubtful" in told
        assert "reviewer Sam" in told
        assert "NOT SIGNED" in told


async def test_hostile_words_are_shown_inert(tablefor: Any, settle: Any) -> None:
    """Markup and escape sequences in what was heard are only characters."""
    line = "left front rail, scale [red]x[/] [@click=app.quit]y[/] \x1b[31m\u202e"
    app = tablefor(line).app()
    async with app.run_test(size=(160, 50)) as pilot:
        await settle(pilot)
        told = detail_text(app)
        assert "[red]x[/]" in told
        assert "\x1b" not in told
        assert "\u202e" not in told


async def test_help_names_every_key_and_mark(tablefor: Any) -> None:
    """And keys do nothing to the log while it is read."""
    from voicelog.tui.review.deeds import DEEDS
    from voicelog.tui.review.marks import MARKS

    table = tablefor()
    app = table.app()
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("question_mark")
        assert isinstance(app.screen, ReviewHelp)
        page = str(app.screen.query_one("#help Static").render())
        assert all(deed.does in page and deed.shown_keys in page for deed in DEEDS)
        assert all(mark.word in page for mark in MARKS)
        lines = len(table.log.facts)
        await pilot.press("w", "c", "r")
        assert len(table.log.facts) == lines
        await pilot.press("escape")
        assert app.screen is app.review_screen


async def test_no_key_does_two_things(tablefor: Any) -> None:
    """Nor has any name two deeds; and each is done by something."""
    from voicelog.tui.review.deeds import DEEDS, READING
    from voicelog.tui.review.doing import DOES

    keys = [key for deed in DEEDS for key in deed.keys.split(",")]
    assert len(set(keys)) == len(keys)
    assert {deed.id for deed in DEEDS} == {*DOES, READING}


async def test_the_palette_does_what_keys_do(tablefor: Any, settle: Any) -> None:
    """Found by name."""
    app = tablefor().app()
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("ctrl+p")
        await pilot.press(*"only doubt")
        await pilot.pause(0.3)
        await pilot.press("enter")
        await pilot.pause(0.2)
        assert [f.entry.id for f in app.looking.listing.shown] == ["e4.1"]


async def test_a_log_without_entries_can_be_opened(tablefor: Any, settle: Any) -> None:
    """Only an idle remark, which is hidden at first."""
    app = tablefor("what a lovely morning").app()
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("n", "e", "right", "space", "m")
        await settle(pilot)
        assert "There is no entry" in detail_text(app)
        assert app.review_screen.query_one(WaveView).sounded is None
