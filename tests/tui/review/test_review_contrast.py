"""Every character of the review screen stands out 7:1, in both themes and in every state.

The measure is that of ``tests/tui/test_contrast.py``: WCAG 2.2, enhanced contrast.
"""

from __future__ import annotations

from typing import Any

import pytest

pytestmark = pytest.mark.asyncio

SCENES: dict[str, tuple[str, ...]] = {
    "opened": (),
    "doubtful": ("n", "right"),
    "withdrawn-and-marked": ("w", "m", "m", "down"),
    "filtered": ("d", "x"),
    "into-the-entry": ("tab", "down"),
    "whole": ("enter",),
    "notice": ("u",),
    "signed": ("S", *"why", "enter", "w"),
    "help": ("question_mark",),
    "palette": ("ctrl+p", "down"),
}


@pytest.mark.parametrize("theme", ["dark", "light"])
@pytest.mark.parametrize("scene", SCENES)
async def test_everything_drawn_stands_out(
    tablefor: Any, settle: Any, weak: Any, scene: str, theme: str
) -> None:
    """In the small window and in the large one."""
    app = tablefor().app(theme=theme)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*SCENES[scene])
        await settle(pilot, 0.3)
        assert weak(app) == {}
        await pilot.resize_terminal(160, 50)
        await settle(pilot, 0.2)
        assert weak(app) == {}


@pytest.mark.parametrize("theme", ["dark", "light"])
async def test_what_is_played_stands_out(
    tablefor: Any, wait_until: Any, weak: Any, theme: str
) -> None:
    """The cursor through the wave, and the word being said."""
    table = tablefor()
    app = table.app(theme=theme)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("n", "space")
        await wait_until(pilot, lambda: bool(table.deck.played))
        table.deck.position_s = 0.5
        await wait_until(pilot, lambda: app.looking.playing_word is not None)
        await pilot.pause()
        assert weak(app) == {}


async def test_without_colours_nothing_is_lost(
    tablefor: Any, settle: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With NO_COLOR set, grade, doubt, the row in hand and faint words can still be told."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = tablefor().app()
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("down")
        await settle(pilot, 0.3)
        lines = [strip.text for strip in app.screen._compositor.render_strips()]
        text = "\n".join(lines)
        assert "# REPAIR" in text
        assert "▸ e3.1" in text
        assert "seal,??" in text
        assert "[right]" in text
        for strip in app.screen._compositor.render_strips():
            for segment in strip:
                colours = (segment.style.color, segment.style.bgcolor) if segment.style else ()
                assert all(
                    c is None or c.triplet is None or len(set(c.triplet)) == 1 for c in colours
                )
