"""What each message changes on the screen."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, get_args

import pytest

from voicelog.domain.opinion import Opinion, Verdict
from voicelog.domain.signal import Signal, Talk
from voicelog.runtime.messages import (
    AnswerAwaited,
    Closed,
    HeardAgain,
    Level,
    Message,
    Noticed,
    Partial,
    SoundEnded,
    State,
    StateChanged,
    TalkChanged,
    Told,
)
from voicelog.runtime.opining import Opined
from voicelog.tui.badge import Badge
from voicelog.tui.entry_list import EntryList
from voicelog.tui.finding_card import CardLines, FindingCard
from voicelog.tui.heard_lines import HeardLines
from voicelog.tui.hint_line import HintLine
from voicelog.tui.looks import STATES
from voicelog.tui.notice_line import NoticeLine
from voicelog.tui.place_line import NOWHERE, PlaceLine
from voicelog.tui.plan_view import HERE, PlanView
from voicelog.tui.state_banner import StateBanner
from voicelog.tui.unseen import Unseen

pytestmark = pytest.mark.asyncio


async def test_the_engine_is_started_once_and_its_messages_are_shown(stage: Any) -> None:
    """Before anything is said, the screen says that the ear is being made ready."""
    app = stage.app()
    async with app.run_test() as pilot:
        assert stage.engine.started == 1
        assert app.screen.query_one(StateBanner).look is STATES[State.STARTING]
        stage.say(stage.opened(()), StateChanged(State.LISTENING))
        await pilot.pause()
        assert app.screen.query_one(StateBanner).look is STATES[State.LISTENING]
        assert app.screen.query_one(PlaceLine).place == ""
        assert NOWHERE not in stage.shown(app, PlaceLine)  # it is drawn, not written


async def test_every_message_there_is_can_be_shown(stage: Any) -> None:
    """One that the screen does not know would end it in the middle of an inspection."""
    app = stage.app(linger_s=3600.0)
    (took,) = stage.took("left rear rail, hole")
    story = [
        stage.opened(()), StateChanged(State.LISTENING), Level(-20.0, -50.0), Partial("left"), took,
        HeardAgain(Opined("u2", Opinion("doubtful", Verdict.NOTHING)), took.inspection), Told(Signal.QUESTION, "Affirm?", question=True, for_s=8.0), AnswerAwaited(8.0),
        Noticed("sound was lost"), SoundEnded(), TalkChanged(Talk.TONES), Closed(None, True),
    ]  # fmt: skip
    assert {type(message) for message in story} == set(get_args(Message))
    async with app.run_test() as pilot:
        for message in story:
            stage.say(message)
            await pilot.pause()
        assert app.is_running


async def test_what_a_second_ear_puts_in_doubt_is_seen(stage: Any) -> None:
    """In the list at once; the place where the inspector is stays."""
    app = stage.app()
    (took,) = stage.took("left rear rail, surface rust")
    (finding,) = took.inspection.live
    doubted = replace(finding, entry=replace(finding.entry, doubts=("the second ear differs",)))
    inspection = replace(took.inspection, findings=(doubted,))
    opined = Opined("u2", Opinion("unsafe", Verdict.DIFFERS), (doubted,))
    async with app.run_test() as pilot:
        stage.say(stage.opened(()), StateChanged(State.LISTENING), took)
        await pilot.pause()
        here = app.screen.query_one(PlaceLine).place
        stage.say(HeardAgain(opined, inspection))
        await pilot.pause()
        assert app.screen.query_one(EntryList).shown[0].entry.doubtful
        assert app.screen.query_one(PlaceLine).place == here != ""


async def test_the_end_of_the_recordings_is_told(stage: Any) -> None:
    """And what still works."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(()), SoundEnded())
        await pilot.pause()
        told = app.screen.query_one(NoticeLine).text
        assert told == "The recordings are over; keys and typed words still work"


async def test_each_state_shows_its_word_and_why(stage: Any) -> None:
    """The engine's own words come first; else what to do about it."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(()))
        for state in State:
            stage.say(StateChanged(state, "because"))
            await pilot.pause()
            assert app.screen.query_one(StateBanner).look is STATES[state]
            assert app.screen.query_one(HintLine).text == "because"
            stage.say(StateChanged(state))
            await pilot.pause()
            said = {"resume": "logbook, go ahead", "yes": "affirm", "skip": "skip"}
            hint = STATES[state].hint.format(**said)
            assert app.screen.query_one(HintLine).text == hint


async def test_words_are_shown_while_they_are_said_and_go_when_they_were_taken(stage: Any) -> None:
    """Then the sentence stands where it was heard last."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(()), StateChanged(State.HEARING), Partial("left front"))
        await pilot.pause()
        assert "left front" in stage.shown(app, HeardLines)
        stage.say(*stage.took("left front rail"))
        await pilot.pause()
        lines = app.screen.query_one(HeardLines)
        assert (lines.partial, lines.heard) == ("", "left front rail")
        assert app.screen.query_one(PlaceLine).place == "left front rail"


async def test_of_a_long_sentence_its_end_is_shown_while_it_is_said(stage: Any) -> None:
    """Its beginning has been read already."""
    app = stage.app()
    async with app.run_test(size=(80, 24)) as pilot:
        stage.say(StateChanged(State.HEARING), Partial("word " * 200 + "the end"))
        await pilot.pause()
        assert stage.shown(app, HeardLines).split("\n")[0].endswith("the end")


async def test_an_entry_comes_on_the_card_with_its_grade_and_why(stage: Any) -> None:
    """Place, fault, caution, the rules as sentences, in words and sign."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(*stage.story())
        await pilot.pause()
        badge = app.screen.query_one(Badge)
        assert badge.look.word == "UNSAFE"
        assert "!!!!" in str(badge.render())
        lines = str(app.screen.query_one("#card-lines").render())
        assert "left control arm mount" in lines
        assert "hole, 25 mm" in lines
        assert "why: A hole" in lines


@pytest.mark.parametrize(("size", "cut"), [((60, 20), True), ((120, 200), False)])
async def test_what_the_card_has_no_room_for_is_marked(
    stage: Any, size: tuple[int, int], cut: bool
) -> None:
    """Its last row ends in a mark, between two words, and nothing stands below it unseen."""
    app = stage.app()
    async with app.run_test(size=size) as pilot:
        stage.say(*stage.story())
        await pilot.pause()
        card = app.screen.query_one(CardLines)
        rows = str(card.render()).split("\n")
        assert rows[-1].endswith(" …") is cut
        whole = str(card.told)
        shown = " ".join(row.removesuffix(" …") for row in rows).split()
        assert whole.split()[: len(shown)] == shown
        assert (len(shown) < len(whole.split())) is cut
        assert not cut or len(rows) == card.content_size.height


async def test_a_log_gone_on_with_shows_what_it_holds(stage: Any) -> None:
    """The list is there at once, and the place has to be named anew."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        held = stage.inspection("fuel line surface rust")
        stage.say(replace(stage.opened(()), inspection=held, resumed=True))
        await pilot.pause()
        assert app.screen.query_one(EntryList).option_count == 1
        assert "name the place anew" in app.screen.query_one(NoticeLine).text


async def test_of_two_findings_in_a_breath_the_worse_comes_on_the_card(stage: Any) -> None:
    """The other is in the list."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        line = "left control arm mount, hole, about an inch, next item, fuel line surface rust"
        stage.say(stage.opened(()), *stage.took(line))
        await pilot.pause()
        assert app.screen.query_one(Badge).look.word == "UNSAFE"
        assert app.screen.query_one(EntryList).option_count == 2


async def test_a_place_alone_leaves_the_last_entry_on_the_card(stage: Any) -> None:
    """It changes where one is, not what was found."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(()), *stage.took("fuel line surface rust", "left front rail"))
        await pilot.pause()
        finding = app.screen.query_one(FindingCard).finding
        assert finding.entry.slots["zone"] == "fuel-line"
        assert app.screen.query_one(PlaceLine).place == "left front rail"


async def test_the_list_has_the_newest_on_top_and_can_be_picked_from(stage: Any) -> None:
    """What is picked comes on the card, and stays picked when more is found."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        first, second, third = stage.took(
            "left front rail scale", "fuel line surface rust", "tow hitch surface rust"
        )
        stage.say(stage.opened(()), first, second)
        await pilot.pause()
        entries = app.screen.query_one(EntryList)
        assert [f.entry.slots["zone"] for f in entries.shown] == ["fuel-line", "front-rail"]
        await pilot.press("tab", "down", "down", "enter")
        card = app.screen.query_one(FindingCard)
        assert card.finding.entry.slots["zone"] == "front-rail"
        stage.say(third)
        await pilot.pause()
        assert entries.shown[entries.highlighted].entry.slots["zone"] == "front-rail"


async def test_a_withdrawn_entry_leaves_the_list_and_says_so_on_the_card(stage: Any) -> None:
    """The log keeps it; the screen says what became of it."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(stage.opened(()), *stage.took("fuel line surface rust", "disregard"))
        await pilot.pause()
        assert app.screen.query_one(EntryList).option_count == 0
        assert "withdrawn" in app.screen.query_one(Badge).notes


async def test_idle_talk_makes_no_line(stage: Any) -> None:
    """An hour of chatter would bury the findings."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(stage.opened(()), *stage.took("put the kettle on", "fuel line surface rust"))
        await pilot.pause()
        assert app.screen.query_one(EntryList).option_count == 1


async def test_what_is_unseen_shrinks(stage: Any) -> None:
    """The counts follow every utterance."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(stage.opened(()))
        await pilot.pause()
        before = stage.shown(app, Unseen)
        stage.say(*stage.took("steering box mount clean, scraped it, firm"))
        await pilot.pause()
        assert "18 critical mounts" in before
        assert "17 critical mounts" in app.screen.query_one("Unseen.-line").render().plain


async def test_the_plan_follows_and_marks_where_one_is(stage: Any) -> None:
    """With its legend."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(stage.opened(()), *stage.took("left front rail, scale"))
        await pilot.pause()
        drawn = app.screen.query_one(PlanView).render().plain
        assert HERE in drawn.split("not looked at")[0]
        assert "#" in drawn.split("not looked at")[0]
        assert "you are here" in drawn


async def test_what_was_said_in_stand_by_is_not_shown(stage: Any) -> None:
    """It was not kept, so nobody may read it."""
    app = stage.app()
    async with app.run_test() as pilot:
        stage.say(stage.opened(()), *stage.took("stand by", "my private business"))
        await pilot.pause()
        assert "private" not in stage.shown(app, HeardLines)
