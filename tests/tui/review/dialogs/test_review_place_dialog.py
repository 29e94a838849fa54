"""Where a run of entries moves."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.tui.review.choices import among, listed
from voicelog.tui.review.place_dialog import PlaceDialog

pytestmark = pytest.mark.asyncio


ENTRIES = [f"e{n}.1 left rear rail, scale" for n in range(1, 31)]


def dialog(stand: Any, *entries: str) -> PlaceDialog:
    """For place and side."""
    sides = among(listed(("left", "right", "both")))
    return PlaceDialog(entries or ENTRIES, {"zone": stand.zones, "side": sides})


async def test_only_what_was_changed_is_given_back(stand: Any) -> None:
    """A new side leaves the zone of each entry alone."""
    assert (await stand.ask(dialog(stand), "s", " right", "enter", "enter")).answer == {
        "side": "right"
    }
    keys = ("space", " sill", "enter", "down", "space", " both", "enter", "enter")
    assert (await stand.ask(dialog(stand), *keys)).answer == {"zone": "sill", "side": "both"}


async def test_nothing_changed_is_refused(stand: Any) -> None:
    """Also where a change was taken back, or its list left."""
    for keys in ((), ("s", "escape"), ("s", " right", "enter", "s", "ctrl+d")):
        host = await stand.ask(dialog(stand), *keys, "enter")
        assert host.answer == stand.STILL_OPEN
        assert "Nothing would change yet" in host.text


async def test_it_shows_what_moves_and_where_to(stand: Any) -> None:
    """How many, which, down to the last, and the new place by its title."""
    host = await stand.ask(dialog(stand), "z", " sill", "enter", *["pagedown"] * 8)
    for told in ("MOVE 30 ENTRIES", "e30.1 left rear rail, scale", "Sill", "as it is"):
        assert told in host.text
    assert "MOVE ONE ENTRY" in (await stand.ask(dialog(stand, "e1.1"))).text
