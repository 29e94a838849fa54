"""Questions and cautions: over the card, with a countdown, and never in need of hands."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.domain.signal import Signal
from voicelog.runtime.messages import AnswerAwaited, State, StateChanged, Told
from voicelog.tui.cautions import Cautions
from voicelog.tui.finding_card import FindingCard
from voicelog.tui.help_screen import HelpScreen
from voicelog.tui.question_card import IN_WORDS, QuestionCard

pytestmark = pytest.mark.asyncio

ASKED = Told(Signal.QUESTION, "Left rear rail, hole. Affirm?", question=True, for_s=8.0)


async def test_a_question_counts_down_once_it_was_said_to_its_end(stage: Any) -> None:
    """Words may take longer than the answer is waited for; when the time is over, it is gone."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(*stage.story(), ASKED)
        await pilot.pause()
        asked, card = app.screen.query_one(QuestionCard), app.screen.query_one(FindingCard)
        stage.clock.now_s = 60.0
        asked.count()
        assert (asked.display, card.display) == (True, False)
        assert " s  " not in str(asked.render())
        stage.say(AnswerAwaited(8.0))
        await pilot.pause()
        assert asked.left_s == 8
        assert "8 s" in str(asked.render())
        stage.clock.now_s = 65.5
        asked.count()
        assert asked.left_s == 3
        stage.clock.now_s = 68.1
        asked.count()
        await pilot.pause()
        assert (asked.display, card.display) == (False, True)


async def test_a_question_said_again_is_waited_for_anew(stage: Any) -> None:
    """Also when its time was over on the screen while it was being said."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(()), ASKED, AnswerAwaited(8.0))
        await pilot.pause()
        asked = app.screen.query_one(QuestionCard)
        for now_s in (5.0, 14.0):
            stage.clock.now_s = now_s
            asked.count()
            stage.say(AnswerAwaited(8.0))
            await pilot.pause()
            assert (asked.display, asked.left_s) == (True, 8)


async def test_an_answer_is_not_awaited_where_nothing_is_asked(stage: Any) -> None:
    """A question that was answered meanwhile does not come back."""
    app = stage.app()
    async with app.run_test() as pilot:
        first, second = stage.took("left rear rail, hole", "affirm")
        stage.say(stage.opened(()), ASKED, first, Told(Signal.CHANGED), second, AnswerAwaited(8.0))
        await pilot.pause()
        assert not app.screen.query_one(QuestionCard).display


async def test_the_next_question_does_not_inherit_a_countdown(stage: Any) -> None:
    """It begins when that one was said."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(()), ASKED, AnswerAwaited(8.0), ASKED)
        await pilot.pause()
        asked = app.screen.query_one(QuestionCard)
        stage.clock.now_s = 30.0
        asked.count()
        assert asked.display


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
    """The next question is told right after the answer that raised it."""
    app = stage.app()
    async with app.run_test() as pilot:
        first, answer = stage.took("left rear rail, hole", "affirm")
        again = Told(Signal.QUESTION, "How far from the hanger?", question=True, for_s=8.0)
        stage.say(stage.opened(()), ASKED, first, answer, again)
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
        asks = Told(Signal.QUESTION, "What is inspected?", question=True, for_s=8.0)
        stage.say(StateChanged(State.SET_UP, "What is inspected?"), asks, AnswerAwaited(8.0))
        await pilot.pause()
        asked = app.screen.query_one(QuestionCard)
        stage.clock.now_s = 600.0
        asked.count()
        assert (asked.display, asked.how) == (True, IN_WORDS)
        assert " s  " not in str(asked.render())
        stage.say(stage.opened())
        await pilot.pause()
        assert not asked.display
