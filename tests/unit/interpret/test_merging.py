"""One trouble in two words, or two findings."""

from __future__ import annotations

import pytest

from voicelog.interpret.cover import Item
from voicelog.interpret.merging import merged


def _item(slot: str, value: str, score: float = 1.0) -> Item:
    return Item(slot, value, 0, 1, score)


_SCALE, _LAYERS = _item("condition", "scale"), _item("condition", "delamination")
_RUSTY, _ROTTEN = _item("rust", "surface-rust"), _item("rot", "hole")
_CRACK, _SOFT = _item("condition", "crack"), _item("condition", "soft-spot")
_DIRT, _DRAIN = _item("condition", "debris"), _item("condition", "blocked-drain")


@pytest.mark.parametrize(
    ("kept", "new", "apart", "whole"),
    [
        (_SCALE, _LAYERS, False, _LAYERS),
        (_LAYERS, _SCALE, False, _LAYERS),
        (_SCALE, _LAYERS, True, None),
        (_DIRT, _DRAIN, True, _DRAIN),
        (_CRACK, _SCALE, False, None),
        (_CRACK, _RUSTY, False, _CRACK),
        (_CRACK, _RUSTY, True, None),
        (_RUSTY, _CRACK, True, _CRACK),
        (_SOFT, _ROTTEN, True, _SOFT),
        (_ROTTEN, _SOFT, True, _SOFT),
        (_CRACK, _ROTTEN, False, None),
    ],
)
def test_two_words(kept: Item, new: Item, apart: bool, whole: Item | None) -> None:
    """The more definite word stands for both; None where they are two findings."""
    assert merged(kept, new, apart=apart) is whole


def test_the_same_word_twice_keeps_the_surer_one() -> None:
    """What was heard better counts, and of two as good the first."""
    faint, clear = _item("condition", "crack", 0.6), _item("condition", "crack", 0.9)
    assert merged(faint, clear, apart=True) is clear
    assert merged(clear, faint, apart=True) is clear


@pytest.mark.parametrize(
    ("start", "stop", "whole"), [(2, "", True), (3, "", True), (4, "", False), (2, ",", False)]
)
def test_gone_is_how_it_became(start: int, stop: str, whole: bool) -> None:
    """ "The paint's gone (all) blistery" is one trouble; not later, nor after a stop."""
    gone = Item("condition", "chipped-coating", 0, 2, text="paint's gone", stop=stop)
    new = Item("condition", "blistering", start, start + 1, text="blistery")
    assert merged(gone, new, apart=False) is (new if whole else None)
