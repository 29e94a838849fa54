"""Under a language that nobody speaks, the live screen shows nothing else but names, numbers and what was said."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tests.catalogue.pseudo import plain_words
from voicelog.domain.signal import Signal, Talk
from voicelog.findings.places import place_in_words
from voicelog.findings.wording import question_in_words, what_in_words
from voicelog.runtime.messages import (
    AnswerAwaited,
    Level,
    Noticed,
    Partial,
    State,
    StateChanged,
    Told,
    Took,
)
from voicelog.tui.actions import SPOKEN

QUESTION = Told(Signal.QUESTION, "ɋ", question=True, for_s=8.0)
CHOICE = Told(Signal.QUESTION, "ɋ", question=True, for_s=8.0, options=("left", "right"))
LOUD = (Level(-1.0, -20.0, clipped=True), Noticed("ń", serious=True))

SMALL, WHOLE = (80, 24), (170, 60)

SCENES: dict[str, tuple[Callable[[Any], list[Any]], tuple[str, ...]]] = {
    "nothing-yet": (lambda _: [], ()),
    "set-up": (lambda _: [StateChanged(State.SET_UP, "ɋ")], ()),
    "cautions": (lambda stage: [stage.opened(("ƀé",)), StateChanged(State.CAUTIONS)], ()),
    "under-way": (lambda stage: [*stage.story(), Partial("left")], ()),
    "question": (lambda _: [QUESTION, AnswerAwaited(8.0)], ()),
    "choice": (lambda _: [CHOICE], ()),
    "loud": (lambda _: [StateChanged(State.TOO_LOUD), *LOUD], ()),
    "plan": (lambda _: [], ("v",)),
    "help": (lambda _: [], ("f1",)),
    "palette": (lambda _: [], ("f1", "ctrl+p")),
    "typing": (lambda _: [], ("escape", "t")),
    "leaving": (lambda _: [], ("escape", "q")),
}
"""One after the other: what the engine tells, and the keys that are pressed."""

NAMES = "tiny Ctrl Esc Space Enter PgUp PgDn voicelog pickup built headset skip logbook left right centre taken"
"""Of keys, of the log and the devices, of what is spoken, and of what this test says."""


def lines_of(app: Any) -> list[str]:
    """What is drawn, line by line."""
    return [strip.text for strip in app.screen._compositor.render_strips()]


def said(message: Any, stage: Any) -> Iterator[str]:
    """What is heard, and what stands of it: places, findings and rules have words of their own."""
    zone_map, inspection = stage.grammar.zone_map, getattr(message, "inspection", None)
    if isinstance(message, Took):
        yield message.event.heard.text
    if inspection is not None:
        yield from (zone.title for zone in zone_map.zones.values())
        yield from (rule.text for rule in stage.grammar.rules.rules)
    for finding in inspection.findings if inspection is not None else ():
        entry = finding.entry
        yield place_in_words(entry.slots, zone_map)
        yield from (what_in_words(finding), entry.text, entry.reason, *entry.doubts, *entry.tags)
        yield from (*finding.cautions, *(question_in_words(q, zone_map) for q in entry.questions))


@pytest.mark.asyncio
@pytest.mark.usefixtures("_pseudo")
async def test_the_live_screen_is_told_in_the_language(stage: Any) -> None:
    """In a small window and in one that shows everything at once."""
    names = (NAMES, *SPOKEN.values(), *Talk, *Signal)
    known = {word.casefold() for word in plain_words(" ".join(names))}
    app = stage.app()
    async with app.run_test(size=SMALL) as pilot:
        for scene, (told, keys) in SCENES.items():
            messages = told(stage)
            for message in messages:
                known |= {word.casefold() for word in plain_words(" ".join(said(message, stage)))}
            stage.say(*messages)
            await pilot.press(*keys)
            for size in (SMALL, WHOLE):
                await pilot.resize_terminal(*size)
                await pilot.pause(0.2 if scene == "palette" else None)
                shown = plain_words(re.sub(r"\w+…", "", "\n".join(lines_of(app))))
                assert [word for word in shown if word.casefold() not in known] == [], scene
