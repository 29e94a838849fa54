"""Hearing an entry again: from its start or a word, slower, over and over, and with no speaker."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.tui.review.detail_pane import DetailPane
from voicelog.tui.review.say_line import SayLine
from voicelog.tui.review.wave_view import WaveView

pytestmark = pytest.mark.asyncio
SIZE = (120, 40)


def wave(app: Any) -> WaveView:
    """The drawn sound."""
    return app.review_screen.query_one(WaveView)


def said(app: Any) -> str:
    """The line under the table."""
    return str(app.review_screen.query_one(SayLine).text)


async def test_the_sound_is_drawn_with_its_words(tablefor: Any, wait_until: Any) -> None:
    """Once the cursor rests; the word in brackets stands on the cursor's colours."""
    app = tablefor().app()
    async with app.run_test(size=SIZE) as pilot:
        await wait_until(pilot, lambda: wave(app).sounded is not None)
        await pilot.pause()
        drawn = str(wave(app).render())
        assert "█" in drawn
        assert "left" in drawn
        assert "front" in drawn
        assert "p from [word]" in drawn
        assert "estimated" not in drawn
        await pilot.press("right", "right")
        assert wave(app).at == 2
        assert "[rail,]" in app.review_screen.query_one(DetailPane).text()


async def test_it_plays_from_the_start_and_from_a_word(tablefor: Any, wait_until: Any) -> None:
    """Space, and p where the brackets are; Space again stops."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("space")
        await wait_until(pilot, lambda: bool(table.deck.played))
        assert table.deck.played == [{"from_s": 0.0, "speed": 1.0, "loop": False}]
        assert table.deck.loaded == [round(8 * 0.4 * 16000)]
        table.deck.position_s = 0.5
        await wait_until(pilot, lambda: wave(app).position_s == 0.5)
        assert "»front«" in app.review_screen.query_one(DetailPane).text()
        assert "┃" in str(wave(app).render())
        await pilot.press("space")
        assert table.deck.position_s is None
        await pilot.press("right", "right", "right", "p")
        await wait_until(pilot, lambda: len(table.deck.played) == 2)
        assert table.deck.played[-1]["from_s"] == pytest.approx(1.2)


async def test_slower_and_over_and_over(tablefor: Any, wait_until: Any) -> None:
    """The speed is shown, and what plays goes on so."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("v", "l", "space")
        await wait_until(pilot, lambda: bool(table.deck.played))
        assert table.deck.played == [{"from_s": 0.0, "speed": 0.75, "loop": True}]
        assert "at 75%" in str(wave(app).render())
        assert "over and over" in str(wave(app).render())
        await pilot.press("v")
        assert table.deck.played[-1]["speed"] == 0.5
        await pilot.press("v", "l")
        assert table.deck.played[-1]["loop"] is False


async def test_why_it_cannot_be_slower_is_told(tablefor: Any) -> None:
    """On a machine without what stretches sound."""
    table = tablefor()
    table.deck.why_full_speed = "Sound cannot be stretched here"
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("v")
        assert "cannot be stretched" in said(app)


async def test_no_speaker_is_told_once(tablefor: Any, wait_until: Any) -> None:
    """And the cursor moves all the same."""
    table = tablefor()
    table.deck.why = "There is no speaker"
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("space")
        await wait_until(pilot, lambda: "There is no speaker" in said(app))
        table.deck.position_s = 0.9
        await wait_until(pilot, lambda: wave(app).position_s == 0.9)
        await pilot.press("space", "d", "d", "z", "space")
        await wait_until(pilot, lambda: len(table.deck.played) == 2)
        assert "There is no speaker" not in said(app)


async def test_a_clip_heard_whole_is_written_down_once(tablefor: Any, wait_until: Any) -> None:
    """So that signing knows who listened to what was doubtful."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", "space")
        await wait_until(pilot, lambda: bool(table.deck.played))
        table.deck.position_s, table.deck.finished_whole = None, True
        await wait_until(pilot, lambda: table.log.facts[-1].type == "listened")
        assert dict(table.log.facts[-1].body) == {"utterance": "u4", "by": "Sam"}
        await pilot.press("space")
        await wait_until(pilot, lambda: len(table.deck.played) == 2)
        await pilot.press("space")
        assert [fact.type for fact in table.log.facts].count("listened") == 1


async def test_next_doubt_can_play_what_it_goes_to(tablefor: Any, wait_until: Any) -> None:
    """Only when asked to."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n")
        await pilot.pause(0.2)
        assert not table.deck.played
        await pilot.press("home", "P", "n")
        await wait_until(pilot, lambda: bool(table.deck.played))
        assert app.looking.listing.current == "e4.1"


async def test_words_typed_have_no_sound(tablefor: Any, settle: Any) -> None:
    """It says so under the table, and in the place of the wave."""
    table = tablefor(spoken=False)
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("space")
        await settle(pilot)
        assert "typed, there is no sound" in said(app)
        assert "typed, there is no sound" in str(wave(app).render())
        told = app.review_screen.query_one(DetailPane).text()
        assert "typed, not spoken" in " ".join(told.split())


async def test_a_clip_that_was_altered_is_told(tablefor: Any, wait_until: Any) -> None:
    """Its words can still be corrected."""
    table = tablefor()
    (table.folder / "clips" / "u2.flac").write_bytes(b"not it")
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await wait_until(pilot, lambda: "was altered" in str(wave(app).render()))
        await pilot.press("space")
        await wait_until(pilot, lambda: "was altered" in said(app))


async def test_another_entry_stops_no_sound_and_shows_no_wrong_cursor(
    tablefor: Any, wait_until: Any
) -> None:
    """What plays goes on; its cursor is drawn only in its own wave."""
    table = tablefor()
    app = table.app()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("space")
        await wait_until(pilot, lambda: bool(table.deck.played))
        await pilot.press("down")
        table.deck.position_s = 0.9
        await wait_until(
            pilot, lambda: wave(app).sounded is not None and wave(app).sounded.utterance == "u3"
        )
        await pilot.pause(0.1)
        assert wave(app).position_s is None
        assert table.deck.position_s == 0.9
        await pilot.press("escape")
        assert table.deck.position_s is None
