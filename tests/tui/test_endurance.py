"""Any size, any flood, any text: the screen goes on and stays in order."""

from __future__ import annotations

import threading
from dataclasses import replace
from time import monotonic
from typing import Any

import pytest

from voicelog.domain.entry import Finding
from voicelog.domain.signal import Signal
from voicelog.runtime.messages import (
    Level,
    Noticed,
    Partial,
    State,
    StateChanged,
    Told,
    Took,
)
from voicelog.tui.entry_list import LONGEST, EntryList
from voicelog.tui.heard_lines import HeardLines
from voicelog.tui.meter import Meter
from voicelog.tui.plan_view import PlanView
from voicelog.tui.state_banner import StateBanner
from voicelog.tui.unseen import Unseen

pytestmark = pytest.mark.asyncio

SIZES = [(80, 24), (100, 30), (120, 40), (170, 52), (200, 60), (300, 100), (120, 24), (80, 60),
         (40, 12), (20, 6), (5, 3), (1, 1), (80, 24)]  # fmt: skip


@pytest.mark.parametrize("keys", [(), ("v",), ("t",), ("f1",)])
async def test_any_size_can_follow_any_other(stage: Any, keys: tuple[str, ...]) -> None:
    """From the smallest window to a wall and back, whatever is open."""
    app = stage.app()
    async with app.run_test(size=(80, 24)) as pilot:
        stage.say(*stage.story())
        await pilot.pause()
        await pilot.press(*keys)
        for width, height in SIZES:
            await pilot.resize_terminal(width, height)
            await pilot.pause()
            assert app.size == (width, height)
        assert app.is_running


@pytest.mark.parametrize(
    ("size", "seen"),
    [((80, 24), {"line"}), ((120, 40), {"line", "list", "plan"}),
     ((200, 60), {"list", "plan", "panel"})],
)  # fmt: skip
async def test_each_size_shows_what_it_has_room_for(
    stage: Any, size: tuple[int, int], seen: set[str]
) -> None:
    """State, place, words and card always; list, plan and the unseen places where they fit."""
    app = stage.app()
    async with app.run_test(size=size) as pilot:
        stage.say(*stage.story())
        await pilot.pause()
        screen = app.screen
        widgets = {
            "list": screen.query_one(EntryList), "plan": screen.query_one(PlanView),
            "panel": screen.query_one("Unseen.-panel", Unseen),
            "line": screen.query_one("Unseen.-line", Unseen),
        }  # fmt: skip
        assert {name for name, widget in widgets.items() if widget.display} == seen
        assert screen.query_one(StateBanner).size.width == size[0]
        for name in seen:
            assert widgets[name].size.height > 0


async def test_a_flood_of_levels_and_partials_drops_nothing_else(stage: Any) -> None:
    """5,000 of each from the engine's thread, twenty utterances between them, in order."""
    app = stage.app()
    taken = stage.took(*(f"fuel line surface rust {n} millimetres" for n in range(1, 21)))
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(stage.opened(()))
        shown: list[Any] = []
        show = app._live.show
        app._live.show = lambda message: (shown.append(message), show(message))
        thread = threading.Thread(target=_flood, args=(stage.engine.publish, taken))
        thread.start()
        while thread.is_alive() or not shown or not isinstance(shown[-1], StateChanged):
            await pilot.pause(0.01)
        assert [message for message in shown if isinstance(message, Took)] == taken
        assert app.screen.query_one(HeardLines).heard == taken[-1].event.heard.text
        assert app.screen.query_one(Meter).level == Level(-5000.0, -60.0)


def _flood(publish: Any, taken: list[Took]) -> None:
    for n in range(1, 5001):
        publish(Level(-float(n), -60.0))
        publish(Partial(f"word {n}"))
        if n % 250 == 0:
            publish(taken[n // 250 - 1])
    publish(StateChanged(State.LISTENING))


async def test_a_screen_that_was_busy_catches_up_at_once(stage: Any) -> None:
    """Of levels that waited in a row only the newest is drawn."""
    app = stage.app()
    async with app.run_test() as pilot:
        shown: list[Any] = []
        show = app._live.show
        app._live.show = lambda message: (shown.append(message), show(message))
        stage.say(*(Level(-float(n), -60.0) for n in range(5000)))
        await pilot.pause()
        assert len(shown) < 50
        assert shown[-1] == Level(-4999.0, -60.0)


async def test_utterances_right_behind_each_other_are_all_shown(stage: Any) -> None:
    """Only levels and partials may be dropped, however long the screen was busy."""
    app = stage.app()
    told = [*stage.took("left front rail", "scale", "fuel line surface rust"), *NOTICES]
    async with app.run_test() as pilot:
        stage.say(stage.opened(()))
        await pilot.pause()
        shown: list[Any] = []
        show = app._live.show
        app._live.show = lambda message: (shown.append(message), show(message))
        stage.say(*told)
        await pilot.pause()
        assert shown == told


NOTICES = [Noticed("one"), Noticed("two"), Told(Signal.REMARK), Told(Signal.FINDING, "scale")]
HOSTILE = (
    "[bold red]x[/] \x1b[2J\x1b]0;title\x07 \u202eevil\u2069 $accent @click=app.quit() \x9b31m "
)


async def test_ten_megabytes_of_hostile_text_are_shown_inert_and_at_once(stage: Any) -> None:
    """In every place where a text from outside can stand; markup is text, escapes are not sent."""
    flood = HOSTILE * (10_000_000 // len(HOSTILE))
    app = stage.app()
    (took,) = stage.took("left front rail scale")
    hostile = _hostile(took, flood)
    async with app.run_test(size=(200, 60)) as pilot:
        began_s = monotonic()
        stage.say(
            replace(stage.opened((flood,)), ear=flood, device=flood, subject=flood),
            StateChanged(State.HEARING, flood), Partial(flood), Noticed(flood), hostile,
            Told(Signal.FINDING, flood), Told(Signal.QUESTION, flood, question=True, for_s=9.0),
        )  # fmt: skip
        await pilot.pause()
        assert monotonic() - began_s < 5.0
        text = "".join(s.text for strip in app.screen._compositor.render_strips() for s in strip)
        assert text.isprintable()
        assert "[bold red]x" in text
        links = [s for strip in app.screen._compositor.render_strips() for s in strip]
        assert not any(s.style and s.style.link for s in links)


def _hostile(took: Took, flood: str) -> Took:
    finding = took.event.findings[0]
    slots = {**finding.entry.slots, "zone": flood, "landmark": flood}
    entry = replace(finding.entry, slots=slots, text=flood, doubts=(flood,))
    bad = Finding(entry, grade=finding.grade, rules=(flood,), cautions=(flood,))
    event = replace(
        took.event, heard=type(took.event.heard).typed(flood[:1_000_000]), findings=(bad,)
    )
    return replace(
        took, event=event, inspection=replace(took.inspection, findings=(bad,)),
        place={"zone": flood},
    )  # fmt: skip


async def test_the_list_stays_short_in_a_long_inspection(stage: Any) -> None:
    """It shows the newest and says how many there are; the log keeps them all."""
    app = stage.app()
    (took,) = stage.took("fuel line surface rust")
    finding = took.event.findings[0]
    many = tuple(replace(finding, entry=replace(finding.entry, id=f"e{n}.1")) for n in range(3000))
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(
            stage.opened(()), replace(took, inspection=replace(took.inspection, findings=many))
        )
        await pilot.pause()
        entries = app.screen.query_one(EntryList)
        assert entries.option_count == LONGEST
        assert entries.shown[0].entry.id == "e2999.1"
        assert entries.border_subtitle == "3000"
