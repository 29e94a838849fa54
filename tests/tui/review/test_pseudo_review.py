"""Under a language that nobody speaks, the review screen shows nothing else but names, numbers and the log."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from tests.catalogue.pseudo import plain_words
from voicelog.domain.slot import SIDES
from voicelog.findings.places import place_in_words
from voicelog.findings.wording import question_in_words, what_if_in_words, what_in_words
from voicelog.tui.review.standing_view import verdict_words

NAMES = "UTC tiny Ctrl Esc Space Enter Tab PgUp PgDn pickup Sam built voicelog why thou"
"""Of keys, of the time, of the log and whoever works on it, of a command and of units."""

DOORS = {
    "screen": (),
    "doubtful": ("n", "right"),
    "edit": ("e",),
    "value": ("e", "x"),
    "filters": ("f",),
    "sign": ("S",),
    "move": ("g",),
    "retype": ("t",),
    "add": ("a",),
    "readings": ("o",),
    "find": ("slash",),
    "open": ("i",),
    "help": ("f1",),
    "palette": ("ctrl+p",),
    "corrected": ("r", "m", "w", "slash", "x", "enter"),
}
"""What is seen, and the keys that lead to it."""


def in_the_log(app: Any) -> Iterator[str]:
    """What the log holds, and what places, findings, rules and open points are called."""
    looking = app.looking
    review, zone_map = looking.review, looking.known.zone_map
    yield from (zone.title for zone in zone_map.zones.values())
    yield from (*looking.rules.values(), *SIDES, verdict_words(review.inspection()))
    yield from (point.text for point in review.open_points())
    for finding in looking.listing.by_id.values():
        entry = finding.entry
        yield place_in_words(entry.slots, zone_map)
        yield from (what_in_words(finding), entry.text, entry.reason, *entry.doubts, *entry.tags)
        yield from (*finding.cautions, *(question_in_words(q, zone_map) for q in entry.questions))
        yield from (hypothesis.text for hypothesis in review.utterance(entry.id).heard.hypotheses)
        yield from map(str, entry.slots.values())
    for one in (looking.detail,) if looking.detail is not None else ():
        yield from (step.in_words() for step in one.steps)
        yield from map(what_if_in_words, one.what_ifs)
        for other in one.others or ():
            yield from (other.text, what_in_words(other.finding))


@pytest.mark.asyncio
@pytest.mark.usefixtures("_pseudo")
async def test_the_review_screen_is_told_in_the_language(tablefor: Any, settle: Any) -> None:
    """The screen and every dialog, all of it."""
    app = tablefor().app()
    async with app.run_test(size=(130, 90)) as pilot:
        await settle(pilot)
        for door, keys in DOORS.items():
            await pilot.press(*keys)
            await settle(pilot)
            known = {word.casefold() for word in plain_words(" ".join((NAMES, *in_the_log(app))))}
            drawn = "\n".join(strip.text for strip in app.screen._compositor.render_strips())
            shown = plain_words(re.sub(r"\w+…", "", drawn))
            assert [word for word in shown if word.casefold() not in known] == [], door
            while app.screen is not app.review_screen:
                await pilot.press("escape")
                await pilot.pause()
