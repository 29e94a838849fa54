"""What the trade says, for somebody who has never seen a frame: names explained."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.domain.entry import Entry
from voicelog.tongue import to_word, worded

MEANS: Mapping[str, str] = {
    "rust-weep": to_word("rusty water comes out of a seam, from the inside"),
    "oil-film": to_word("oil or wax lies over the metal"),
    "recoated": to_word("somebody has coated it anew"),
    "blistering": to_word("the coating lifts in bubbles"),
    "scale": to_word("thick flakes of rust"),
    "delamination": to_word("the metal comes off in layers"),
    "pack-rust": to_word("rust between two sheets forces them apart"),
    "pitting": to_word("rust has eaten pits into the metal"),
    "thinning": to_word("the metal has lost thickness"),
    "soft-spot": to_word("the metal gives way when pressed"),
    "deformation": to_word("it is bent, kinked or sagging"),
    "filler": to_word("something other than metal fills a gap"),
    "seized-fixing": to_word("a bolt or nut is rusted fast"),
    "wasted-fixing": to_word("rust has eaten a bolt or rivet thin"),
    "worn-hole": to_word("a bolt hole is worn too wide"),
    "missing-part": to_word("a bolt or a part is not there"),
    "blocked-drain": to_word("water cannot run out"),
    "debris": to_word("mud or dirt hides the metal"),
}
"""Conditions that a buyer may not know by name; common practice, no source."""


def means(entry: Entry) -> str:
    """What an entry's condition means; empty where its name says so, or it has none."""
    condition = str(entry.slots.get("condition", ""))
    return worded(MEANS[condition]) if condition in MEANS else ""
