"""Questions and cautions: over the card, with a countdown, and never in need of hands."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.domain.signal import Signal
from voicelog.runtime.messages import State, StateChanged, Told
from voicelog.tui.cautions import Cautions
from voicelog.tui.finding_card import FindingCard
from voicelog.tui.help_screen import HelpScreen
from voicelog.tui.question_card import IN_WORDS, QuestionCard

pytestmark = pytest.mark.asyncio

ASKED = Told(Signal.QUESTION, "Left rear rail, hole. Affirm?", aloud=True, question=True, for_s=8.0)


async def test_a_question_covers_the_card_and_counts_down(stage: Any) -> None:
    """When its time is over, the card is back."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(*stage.story(), ASKED)
        await pilot.pause()
        asked, card = app.screen.query_one(QuestionCard), app.screen.query_one(FindingCard)
        assert (asked.display, card.display, asked.left_s) == (True, False, 8)
        assert "8 s" in str(asked.render())
        stage.clock.now_s = 5.5
        asked.count()
        assert asked.left_s == 3
        stage.clock.now_s = 8.1
        asked.count()
        await pilot.pause()
        assert (asked.display, card.display) == (False, True)


async def test_a_question_told_before_its_own_utterance_stays_open(stage: Any) -> None:
    """The tone goes out first; the utterance that raised it follows."""
    app = stage.app()
    async with app.run_test() as pilot:
        first, second = stage.took("left rear rail, hole", "affirm")
        stage.say(stage.opened(()), ASKED, first)
        await pilot.pause()
        assert app.screen.query_one(QuestionCard).display
        stage.say(Told(Signal.CHANGED, "Affirmed"), second)
        await pilot.pause()
        assert not app.screen.query_one(QuestionCard).display


async def test_an_answer_closes_it_in_whatever_order_it_is_told(stage: Any) -> None:
    """The utterance before the tone works as well."""
    app = stage.app()
    async with app.run_test() as pilot:
        first, second = stage.took("left rear rail, hole", "negative")
        stage.say(stage.opened(()), first, ASKED, second, Told(Signal.CHANGED, "Withdrawn"))
        await pilot.pause()
        assert not app.screen.query_one(QuestionCard).display


async def test_an_answer_that_raises_the_next_question_leaves_that_one_open(stage: Any) -> None:
    """The next question is told before the answer that raised it."""
    app = stage.app()
    async with app.run_test() as pilot:
        first, answer = stage.took("left rear rail, hole", "affirm")
        again = Told(Signal.QUESTION, "How far from the hanger?", question=True, for_s=8.0)
        stage.say(stage.opened(()), ASKED, first, again, answer)
        await pilot.pause()
        asked = app.screen.query_one(QuestionCard)
        assert (asked.display, asked.text) == (True, "How far from the hanger?")


async def test_a_remark_leaves_it_open(stage: Any) -> None:
    """Talk to somebody else is no answer."""
    app = stage.app()
    async with app.run_test() as pilot:
        first, second = stage.took("left rear rail, hole", "hand me the light")
        stage.say(stage.opened(()), ASKED, first, Told(Signal.REMARK), second)
        await pilot.pause()
        assert app.screen.query_one(QuestionCard).display


async def test_a_question_comes_through_the_help_screen(stage: Any) -> None:
    """Nobody has to put a page away to see what is asked."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(*stage.story())
        await pilot.press("question_mark")
        assert isinstance(app.screen, HelpScreen)
        stage.say(ASKED)
        await pilot.pause()
        assert app.screen.query_one(QuestionCard).display


@pytest.mark.parametrize("state", [State.NO_MICROPHONE, State.STORAGE_REFUSED, State.TOO_LOUD])
async def test_an_alarm_comes_through_the_palette(stage: Any, state: State) -> None:
    """Sound that is lost matters more than a list of commands."""
    app = stage.app()
    async with app.run_test() as pilot:
        await pilot.press("ctrl+p")
        await pilot.pause()
        stage.say(StateChanged(state))
        await pilot.pause()
        assert len(app.screen_stack) == 1


async def test_cautions_stay_until_they_are_affirmed(stage: Any) -> None:
    """Also while the tool reads them out, and while somebody speaks."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(), StateChanged(State.TALKING))
        await pilot.pause()
        page = app.screen.query_one(Cautions)
        assert page.display
        assert all(sentence in str(page.render()) for sentence in page.sentences)
        for state in (State.CAUTIONS, State.HEARING, State.HELD, State.CAUTIONS):
            stage.say(StateChanged(state))
            await pilot.pause()
            assert page.display
        await pilot.press("a")
        assert [str(action) for action in stage.engine.actions] == ["affirm"]
        stage.say(Told(Signal.LISTENING), *stage.took("affirm"), StateChanged(State.HELD))
        await pilot.pause()
        assert not page.display


async def test_negative_does_not_put_the_cautions_away(stage: Any) -> None:
    """Only *affirm* says that they were read."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(), StateChanged(State.CAUTIONS), *stage.took("negative"))
        await pilot.pause()
        assert app.screen.query_one(Cautions).display


async def test_what_is_asked_before_the_log_is_open_has_no_countdown(stage: Any) -> None:
    """It waits, by voice or typing, until it is answered."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(StateChanged(State.SET_UP, "What is inspected?"))
        await pilot.pause()
        asked = app.screen.query_one(QuestionCard)
        stage.clock.now_s = 600.0
        asked.count()
        assert (asked.display, asked.how) == (True, IN_WORDS)
        assert " s  " not in str(asked.render())
        stage.say(stage.opened())
        await pilot.pause()
        assert not asked.display
