"""Two words for the condition of one place: one trouble, or two findings?"""

from __future__ import annotations

from voicelog.interpret.cover import Item

_SAYS_MORE = {
    ("hole", "worn-hole"), ("debris", "blocked-drain"), ("scale", "delamination"),
    ("recoated", "peeling-coating"), ("recoated", "oil-film"), ("recoated", "blocked-drain"),
    ("surface-rust", "rust-weep"), ("missing-part", "hole"), ("peeling-coating", "delamination"),
    ("scale", "pack-rust"), ("crack", "pack-rust"), ("hole", "missing-part"),
    ("thinning", "delamination"), ("thinning", "wasted-fixing"), ("hole", "wasted-fixing"),
    ("seized-fixing", "wasted-fixing"),
}  # fmt: skip
"""Pairs of which the second says what the first means, where no "and" stands between."""

_ROT = ("hole", "soft-spot", "thinning", "delamination", "pack-rust")
"""Conditions that "rotten" may be a word for."""

_BECOMES = ("scale", "blistering", "peeling-coating", "surface-rust", "pitting", "delamination")
"""What metal or paint may have "gone"."""

_PACKED = "blocked-drain"
"""What blocks a drain is named with it: "mud and the drain's blocked" is one trouble."""


def merged(kept: Item, new: Item, *, apart: bool) -> Item | None:
    """One condition for two words of the same trouble, or None when they are two findings.

    Args:
        kept: the earlier one.
        new: the later one.
        apart: an "and" stands between.
    """
    if _has_become(kept, new):
        return new
    apart = apart and _PACKED not in (kept.value, new.value)
    if not apart and (kept.value, new.value) in _SAYS_MORE:
        return new
    if not apart and (new.value, kept.value) in _SAYS_MORE:
        return kept
    if kept.value == new.value and kept.slot == new.slot:
        return kept if kept.score >= new.score else new
    return _more_definite(kept, new, apart=apart)


def _has_become(kept: Item, new: Item) -> bool:
    """ "The paint's gone all blistery": "gone" is how it became, no fault of its own."""
    close = not kept.stop and new.start - kept.end <= 1
    return close and kept.text.endswith("gone") and new.value in _BECOMES


def _more_definite(kept: Item, new: Item, *, apart: bool) -> Item | None:
    """ "Rusty" and "rotten" add nothing to a condition that they may be a word for."""
    if (new.slot == "rust" and not apart) or (new.slot == "rot" and kept.value in _ROT):
        return kept
    if kept.slot == "rust" or (kept.slot == "rot" and new.value in _ROT):
        return new
    return kept if kept.value == new.value else None
