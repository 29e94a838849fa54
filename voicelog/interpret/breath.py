"""Words that only draw breath: "okay", "all right", and "right" where it is no side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from voicelog.interpret.classes import QUIET
from voicelog.interpret.cover import Item
from voicelog.interpret.look import next_content

_OKAY = ("okay", "ok")
_ALL_RIGHT = ("all right", "alright")
_AS_SIDE = 0.4
"""Score of "all right" taken for a breath and a side: a guess."""


def without_breaths(items: Sequence[Item]) -> list[Item]:
    """The items, those that only draw breath ignored."""
    said = 0
    while said < len(items) and _is_okay(items, said):
        said += 1
    return [*map(_breath, items[:said]), *_righted(items[said:])]


def _is_okay(items: Sequence[Item], at: int) -> bool:
    return items[at].text in _OKAY and next_content(items, at) is not None


def _righted(items: Sequence[Item]) -> list[Item]:
    if not items:
        return []
    if items[0].text in _ALL_RIGHT and next_content(items, 0) is not None:
        return [_all_right(items), *items[1:]]
    kept = list(items)
    for at in range(1, len(kept)):
        if _is_alone(kept, at):
            kept[at] = _breath(kept[at])
    return [_breath(kept[0]), *kept[1:]] if _opens(kept) else kept


def _all_right(items: Sequence[Item]) -> Item:
    """ "All right front rail": a breath, or one and "right" after it."""
    after = next_content(items, 0)
    if after is not None and after.slot == "zone" and not items[0].stop:
        return replace(items[0], slot="side", value="right", score=_AS_SIDE)
    return _breath(items[0])


def _is_alone(items: Sequence[Item], at: int) -> bool:
    """ "Left sill, scale, right, next one": cut off on both sides, where a side was said."""
    alone = items[at].text == "right" and items[at].stop and items[at - 1].stop
    denied = at > 1 and items[at - 2].slot == "negation"  # "not left, right,"
    return bool(alone) and not denied and any(i.slot in ("side", "kerb") for i in items[:at])


def _opens(items: Sequence[Item]) -> bool:
    """ "Right, …" before another side or before talk; before the name of a place it is a side."""
    if items[0].text != "right" or not items[0].stop or len(items) == 1:
        return False
    later = [item.slot for item in items[1:] if item.slot not in QUIET]
    return later[:1] != ["zone"] or "side" in later


def _breath(item: Item) -> Item:
    return replace(item, slot="ignore", value="ignore")
