"""Putting one entry right: other readings, slots, words typed anew, and the reason for a softening."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import UsageFault
from voicelog.tui.review.alternatives_dialog import AlternativesDialog
from voicelog.tui.review.detail_pane import DetailPane
from voicelog.tui.review.field import Field
from voicelog.tui.review.reason_dialog import ReasonDialog
from voicelog.tui.review.say_line import SayLine
from voicelog.tui.review.sentence_dialog import SentenceDialog
from voicelog.tui.review.slot_dialog import SlotDialog
from voicelog.tui.review.value_dialog import ValueDialog

pytestmark = pytest.mark.asyncio
SIZE = (120, 40)
MOUNT = "steering box mount, crack"


def detail(app: Any) -> str:
    """The entry's pane without its line breaks."""
    return " ".join(app.review_screen.query_one(DetailPane).text().split())


def drawn(app: Any) -> str:
    """All that can be seen."""
    return "\n".join(strip.text for strip in app.screen._compositor.render_strips())


def said(app: Any) -> str:
    """The line under the table."""
    return str(app.review_screen.query_one(SayLine).text)


def slots(table: Any, entry: str) -> dict[str, Any]:
    """An entry's slots as the log has them."""
    return dict(table.log.finding(entry).entry.slots)


async def test_one_key_takes_the_runner_up(tablefor: Any, settle: Any) -> None:
    """It is no longer doubtful, and the entry tells what happened to it and by whom."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", "r")
        await settle(pilot)
        assert slots(table, "e4.1")["zone"] == "rear-rail"
        assert "took the other reading" in said(app)
        told = detail(app)
        assert "Sam took another reading: zone: Front rail → Rear rail" in told
        assert table.log.facts[-1].body["by"] == "Sam"
        assert "c" in table_row(app, "e4.1")


def table_row(app: Any, entry: str) -> str:
    """The marks of an entry's row."""
    from voicelog.tui.review.marks import signs

    return signs(app.looking.listing.by_id[entry], app.looking.known)


async def test_a_digit_takes_that_reading(tablefor: Any, settle: Any) -> None:
    """As the pane numbers them."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", "2")
        await settle(pilot)
        assert slots(table, "e4.1")["condition"] == "scale"
        await pilot.press("4")
        await settle(pilot)
        assert "other reading" in said(app)


async def test_all_readings_can_be_listed(tablefor: Any, settle: Any) -> None:
    """Each a whole entry, with its grade and the words it came from."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", "o")
        await settle(pilot)
        assert isinstance(app.screen, AlternativesDialog)
        await pilot.press("2")
        await settle(pilot)
        assert slots(table, "e4.1")["condition"] == "scale"


async def test_what_is_right_is_confirmed(tablefor: Any, settle: Any) -> None:
    """One key, and the doubt is gone."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", "c")
        await settle(pilot)
        assert not table.log.finding("e4.1").entry.doubtful
        assert app.looking.listing.by_id["e4.1"].entry.doubts == ()
        assert "confirmed" in said(app)


async def test_a_slot_is_picked_from_the_vocabulary(tablefor: Any, settle: Any) -> None:
    """A letter for the slot, some letters for the value."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("e")
        await settle(pilot)
        assert isinstance(app.screen, SlotDialog)
        await pilot.press("z")
        await settle(pilot)
        assert isinstance(app.screen, ValueDialog)
        await pilot.press(*"rear rail", "enter")
        await settle(pilot)
        assert slots(table, "e2.1")["zone"] == "rear-rail"
        assert app.looking.listing.by_id["e2.1"].entry.slots["zone"] == "rear-rail"


async def test_numbers_take_units_and_are_checked(tablefor: Any, settle: Any) -> None:
    """Three sixteenths of an inch; nonsense is refused before anything is written."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        lines = len(table.log.facts)
        await pilot.press("e", "x")
        await settle(pilot)
        await pilot.press(*"banana", "enter")
        await settle(pilot)
        assert isinstance(app.screen, ValueDialog)
        assert len(table.log.facts) == lines
        await pilot.press(*["backspace"] * 6, *"3/16 in")
        await settle(pilot)
        assert "4.7625 mm" in str(app.screen.query_one("#answer").render())
        await pilot.press("enter")
        await settle(pilot)
        assert slots(table, "e2.1")["size_mm"] == pytest.approx(4.7625)


async def test_a_slot_is_dropped(tablefor: Any, settle: Any) -> None:
    """It is not known after all."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("e", "b")
        await settle(pilot)
        await pilot.press("ctrl+d")
        await settle(pilot)
        assert "probe" not in slots(table, "e2.1")


async def test_what_it_is_can_be_changed(tablefor: Any, settle: Any) -> None:
    """A finding becomes a place that could not be looked at, with its reason."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("e", "k")
        await settle(pilot)
        await pilot.press(*"not", "enter")
        await settle(pilot)
        assert table.log.finding("e2.1").entry.kind == "not-seen"
        await pilot.press("e", "r")
        await settle(pilot)
        await pilot.press(*"shield", "enter")
        await settle(pilot)
        assert table.log.finding("e2.1").entry.reason == "shield"


async def test_the_sentence_is_typed_anew(tablefor: Any, settle: Any) -> None:
    """It shows how it would be read before it is taken; what was heard stays."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("t")
        await settle(pilot)
        assert isinstance(app.screen, SentenceDialog)
        await pilot.press("home", *["delete"] * 60, *"right sill crack")
        await settle(pilot, 0.4)
        assert "right sill — crack" in str(app.screen.query_one("#reading").render())
        await pilot.press("enter")
        await settle(pilot)
        assert slots(table, "e2.1")["condition"] == "crack"
        told = detail(app)
        assert "left front rail," in told.split("HEARD")[1]
        assert "READ AS" in told


async def test_words_that_say_nothing_are_refused(tablefor: Any, settle: Any) -> None:
    """In the dialog at once, and in one line if they are taken all the same."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        lines = len(table.log.facts)
        await pilot.press("t", "home", *["delete"] * 60, *"blue sky", "enter")
        await settle(pilot)
        assert "Nothing about the metal was understood" in said(app)
        assert len(table.log.facts) == lines


async def test_an_entry_is_added_in_words(tablefor: Any, settle: Any) -> None:
    """What is not said of the place is as in the entry looked at; the new one is looked at then."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", *"crack thirty mil", "enter")
        await settle(pilot)
        new = app.looking.listing.current
        assert new not in ("e2.1", "")
        assert slots(table, new)["zone"] == "front-rail"
        assert slots(table, new)["condition"] == "crack"


async def test_unsafe_is_softened_only_with_a_reason(tablefor: Any, settle: Any) -> None:
    """Escape changes nothing; an empty reason is none; a typed one is kept."""
    table = tablefor(MOUNT)
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        assert table.log.finding("e2.1").grade is Grade.UNSAFE
        await pilot.press("w")
        await settle(pilot)
        assert isinstance(app.screen, ReasonDialog)
        await pilot.press("escape")
        await settle(pilot)
        assert not table.log.finding("e2.1").withdrawn
        assert "Nothing was changed" in said(app)
        await pilot.press("w", "enter", *"only dirt", "enter")
        await settle(pilot)
        assert table.log.finding("e2.1").withdrawn
        assert table.log.facts[-1].body["why"] == "only dirt"


async def test_nothing_to_take_is_told(tablefor: Any, settle: Any) -> None:
    """In one line, and nothing is written."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        lines = len(table.log.facts)
        for key, words in (
            ("r", "no other reading"),
            ("u", "nothing to undo"),
            ("c", "Nothing would"),
        ):
            await pilot.press(key)
            await settle(pilot)
            assert words in said(app)
        assert len(table.log.facts) == lines


async def test_a_log_that_is_being_written_can_only_be_read(tablefor: Any, settle: Any) -> None:
    """Every deed says why, before anybody types in vain."""
    from voicelog.journal.journal import Journal

    table = tablefor()
    with_lock = Journal.reopen(table.folder)
    try:
        app = table.app()
        async with app.run_test(size=SIZE) as pilot:
            await settle(pilot)
            assert "Only to be read" in said(app)
            for key in ("c", "w", "e", "t", "a", "g", "S", "u", "s"):
                await pilot.press(key)
                await settle(pilot, 0.02)
                assert app.screen is app.review_screen
                assert "cannot be changed now" in said(app)
    finally:
        with_lock.close()


async def test_a_sentence_is_spoken_anew(
    tablefor: Any, settle: Any, wait_until: Any, heard: Any
) -> None:
    """What was spoken is kept with its sound, and the entry read from it."""

    def dictate(listening: Callable[[], None], _stopped: Callable[[], bool]) -> tuple[Heard, Clip]:
        listening()
        return heard("left rear rail, scale"), Clip(b"\1\0" * 8000, 0.0, 0.5)

    table = tablefor()
    app = table.app(dictate=dictate)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("t")
        await settle(pilot)
        await pilot.press("ctrl+r")
        await wait_until(pilot, lambda: slots(table, "e2.1")["zone"] == "rear-rail")
        body = table.log.facts[-1].body
        assert body["did"] == "reread"
        assert (table.folder / body["clip"]["file"]).is_file()


async def test_no_microphone_is_told_and_nothing_is_lost(
    tablefor: Any, settle: Any, wait_until: Any
) -> None:
    """What was typed before stands there still, with why nothing could be heard."""

    def dictate(_listening: Callable[[], None], _stopped: Callable[[], bool]) -> tuple[Heard, Clip]:
        raise UsageFault("There is no microphone", "Type it")

    table = tablefor()
    app = table.app(dictate=dictate)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a")
        await settle(pilot)
        await pilot.press(*"right sill", "ctrl+r")
        await wait_until(pilot, lambda: "There is no microphone" in drawn(app))
        assert isinstance(app.screen, SentenceDialog)
        assert app.screen.query_one(Field).value == "right sill"


async def test_no_other_reading_is_told_without_a_dialog(tablefor: Any, settle: Any) -> None:
    """An empty list to choose from helps nobody; the line names what does."""
    app = tablefor(MOUNT).app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("o")
        await settle(pilot)
        assert app.screen is app.review_screen
        assert "e2.1 has no other reading" in said(app)


async def test_undo_and_redo_name_the_deed(tablefor: Any, settle: Any) -> None:
    """Whoever presses u twice sees what went; an entry alone does not tell."""
    app = tablefor("left sill, hole").app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        await settle(pilot)
        assert said(app).startswith("e2.1 was split: e3.1 is new")
        await pilot.press("u")
        await settle(pilot)
        assert said(app) == "Taken back: e3.1 split. U does it again"
        await pilot.press("U")
        await settle(pilot)
        assert said(app) == "Done again: e3.1 split. u takes it back"


async def test_the_next_step_of_a_long_fault_can_be_read(tablefor: Any, settle: Any) -> None:
    """In 80 columns it takes a second line, and another entry takes it away."""
    app = tablefor(MOUNT, "left sill, hole").app()
    async with app.run_test(size=(80, 24)) as pilot:
        app.bench.say(f"{'What is wrong ' * 6}. The next step", serious=True)
        await settle(pilot)
        assert "The next step" in drawn(app)
        await pilot.press("down")
        await settle(pilot)
        assert said(app) == ""
        assert app.review_screen.query_one(SayLine).size.height == 1
