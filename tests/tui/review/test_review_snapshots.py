"""Pictures of the review screen; what they show is asserted elsewhere.

After a look at the difference: ``python -m pytest tests/tui/review --snapshot-update``.
"""

from __future__ import annotations

import asyncio
from datetime import UTC, datetime
from typing import Any

import pytest

from voicelog.tui.review.standing_view import StandingView
from voicelog.tui.review.wave_view import WaveView

NOW = datetime(2026, 3, 14, 10, 30, tzinfo=UTC)
"""When corrections are made: their times are shown."""

SHOTS: dict[str, tuple[tuple[int, int], tuple[str, ...], str]] = {
    "small": ((80, 24), ("n",), "dark"),
    "small-whole": ((80, 24), ("n", "enter"), "light"),
    "small-filtered": ((80, 24), ("d",), "dark"),
    "large": ((160, 50), ("n", "right"), "dark"),
    "large-corrected": ((160, 50), ("n", "r", "m", "w"), "light"),
    "large-sign": ((160, 50), ("S",), "dark"),
}


@pytest.mark.parametrize("name", SHOTS)
def test_the_review_screen_looks_as_it_did(
    tablefor: Any, snap_compare: Any, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """One size, state and theme each."""
    size, keys, theme = SHOTS[name]
    monkeypatch.setattr("voicelog.journal.clock.utc_now", lambda: NOW)
    app = tablefor().app(theme=theme)

    async def look(pilot: Any) -> None:
        for key in keys:
            await pilot.press(key)
            await pilot.pause(0.2)
        for _ in range(200):
            if _is_drawn(pilot.app):
                break
            await asyncio.sleep(0.02)
        await pilot.pause(0.2)

    assert snap_compare(app, terminal_size=size, run_before=look)


def _is_drawn(app: Any) -> bool:
    """What is looked up once the cursor rests is there, all of it."""
    screen, detail = app.review_screen, app.looking.detail
    standing = screen.query_one(StandingView)
    return (
        screen.query_one(WaveView).sounded is not None
        and detail.others is not None
        and (standing.is_current or not standing.is_on_screen)
    )
