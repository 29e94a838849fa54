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

_PACKED = "blocked-drain"
"""What blocks a drain is named with it: "mud and the drain's blocked" is one trouble."""


def merged(kept: Item, new: Item, *, apart: bool) -> Item | None:
    """One condition for two words of the same trouble, or None when they are two findings.

    Args:
        kept: the earlier one.
        new: the later one.
        apart: an "and" stands between.
    """
    apart = apart and _PACKED not in (kept.value, new.value)
    if not apart and (kept.value, new.value) in _SAYS_MORE:
        return new
    if not apart and (new.value, kept.value) in _SAYS_MORE:
        return kept
    if kept.value == new.value and kept.slot == new.slot:
        return kept if kept.score >= new.score else new
    return _more_definite(kept, new, apart=apart)


def _more_definite(kept: Item, new: Item, *, apart: bool) -> Item | None:
    """ "Rusty" and "rotten" add nothing to a condition that they may be a word for."""
    if (new.slot == "rust" and not apart) or (new.slot == "rot" and kept.value in _ROT):
        return kept
    if kept.slot == "rust" or (kept.slot == "rot" and new.value in _ROT):
        return new
    return kept if kept.value == new.value else None
