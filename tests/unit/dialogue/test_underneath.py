"""Under what covers the metal is no side of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import pytest

from voicelog.domain.entry import Entry, Kind


class _Played(Protocol):
    entries: tuple[Entry, ...]


class _Stage(Protocol):
    def play(self, said: Sequence[str]) -> _Played: ...


def test_sound_under_mud_is_clear(stage: _Stage) -> None:
    """The mud is no finding beside it."""
    (entry,) = stage.play(["left outrigger, it's just mud, metal's sound underneath"]).entries
    assert entry.kind is Kind.CLEAR
    assert "face" not in entry.slots


def test_rust_under_the_paint_found_before(stage: _Stage) -> None:
    """ "It" is the paint, no place."""
    _, rust = stage.play(["right sill, paint's flaking", "pitting underneath it"]).entries
    assert rust.slots["condition"] == "pitting"
    assert "face" not in rust.slots


def test_underneath_a_place_is_its_bottom(stage: _Stage) -> None:
    """Where nothing covers it."""
    (entry,) = stage.play(["right sill, pitting underneath"]).entries
    assert entry.slots["face"] == "bottom"


def test_clean_underneath_is_no_word_of_a_scraper(stage: _Stage) -> None:
    """It was looked at; nobody said to have touched it."""
    scaly, *_ = stage.play(["right sill, scale on the top, clean underneath"]).entries
    assert "probe" not in scaly.slots


@pytest.mark.parametrize("ago", ["years back", "a while back", "back then"])
def test_how_long_ago_is_no_end(stage: _Stage, ago: str) -> None:
    """ "Back" is the rear end elsewhere."""
    (entry,) = stage.play([f"right sill has been plated {ago}"]).entries
    assert entry.slots["condition"] == "old-repair"
    assert "face" not in entry.slots
