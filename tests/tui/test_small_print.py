"""The small print: level, time, talk, answers, notices."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.domain.signal import Signal, Talk
from voicelog.runtime.messages import Level, Noticed, TalkChanged, Told
from voicelog.tui.facts_line import FactsLine
from voicelog.tui.heard_lines import HeardLines
from voicelog.tui.meter import Meter
from voicelog.tui.notice_line import ANSWER_S, SERIOUS_S, NoticeLine

pytestmark = pytest.mark.asyncio


async def test_level_talk_time_and_answers_are_shown(stage: Any) -> None:
    """The small print, each where it belongs."""
    app = stage.app(talk=Talk.TONES)
    async with app.run_test(size=(120, 40)) as pilot:
        assert "TALK tones" in stage.shown(app, FactsLine)
        stage.say(stage.opened(()), Level(-20.0, -60.0, clipped=True), Told(Signal.CHANGED, "Done"))
        stage.say(TalkChanged(Talk.EVERYTHING))
        stage.clock.now_s = 3723.0
        app.screen._tick()
        await pilot.pause()
        assert "-20 dB  floor  -60 dB  CLIPPED" in stage.shown(app, Meter)
        assert (
            "TIME 1:02:03  TALK everything  LOG 20260314T090000Z-pickup-12  EAR built-in, tiny"
            in stage.shown(app, FactsLine)
        )
        assert "ANSWER   Done" in stage.shown(app, HeardLines)


@pytest.mark.parametrize("level", [float("-inf"), float("nan"), -200.0, 0.0, 12.0])
async def test_no_level_breaks_the_meter(stage: Any, level: float) -> None:
    """Digital silence is minus infinity."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(Level(level, level))
        await pilot.pause()
        assert "dB" in stage.shown(app, Meter)


async def test_a_serious_notice_holds_its_place(stage: Any) -> None:
    """What comes after it waits, and is not lost."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(Noticed("the disk is full", serious=True), Noticed("first"), Noticed("second"))
        await pilot.pause()
        line = app.screen.query_one(NoticeLine)
        assert stage.shown(app, NoticeLine) == "!!  the disk is full"
        stage.clock.now_s = SERIOUS_S + 0.1
        line.settle()
        assert stage.shown(app, NoticeLine) == "i  second"
        stage.say(Noticed("third"))
        await pilot.pause()
        assert line.text == "third"


async def test_a_newer_serious_notice_replaces_an_older_one(stage: Any) -> None:
    """The newest is what a person can still do something about."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(Noticed("one", serious=True), Noticed("two", serious=True))
        await pilot.pause()
        assert app.screen.query_one(NoticeLine).text == "two"


async def test_a_key_is_answered_even_over_a_serious_notice(stage: Any) -> None:
    """Whoever wants to leave sees how; then the notice stands there again."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(Noticed("the disk is full", serious=True))
        await pilot.press("q")
        await pilot.pause()
        line = app.screen.query_one(NoticeLine)
        assert "Press the same key again" in line.text
        stage.clock.now_s = ANSWER_S + 0.1
        line.settle()
        assert stage.shown(app, NoticeLine) == "!!  the disk is full"
