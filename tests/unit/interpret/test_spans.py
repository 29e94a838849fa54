"""Runs of words that may be one phrase, and what stands round them."""

from __future__ import annotations

import pytest

from voicelog.interpret.cover import Item
from voicelog.interpret.spans import Span, has_side, is_to_the_point, odd_spans, stands_near

_WORDS = {
    "the": ("filler", "light"), "really": ("filler", ""), "front": ("end", "front"),
    "sill": ("zone", "sill"), "left": ("side", "left"), "hole": ("condition", "hole"),
}  # fmt: skip


def _items(text: str) -> list[Item]:
    items = []
    for at, said in enumerate(text.split()):
        word = said.rstrip(",")
        slot, value = _WORDS.get(word, ("unknown", ""))
        items.append(Item(slot, value, at, at + 1, text=word, stop=said[len(word) :]))
    return items


@pytest.mark.parametrize(
    ("text", "spans"),
    [
        ("zzz sill", [(0, 1)]),
        ("front zzz sill", [(0, 2), (1, 2)]),
        ("zzz, yyy", [(0, 1), (1, 2)]),
        ("the zzz the", [(1, 2)]),
        ("front sill", []),
        ("a b c d e", [(at, end) for at in range(5) for end in range(at + 1, min(at + 4, 5) + 1)]),
    ],
)
def test_odd_runs(text: str, spans: list[tuple[int, int]]) -> None:
    """Up to four items, no stop inside, no small word at either end, one at least odd."""
    items = _items(text)
    assert odd_spans(items, Span(0, len(items)), ("end",)) == spans


@pytest.mark.parametrize(
    ("text", "to_the_point"),
    [
        ("zzz hole", True),
        ("zzz hole yyy", True),
        ("zzz hole yyy xxx", False),
        ("zzz hole really really", True),
        ("zzz the the the the", True),
    ],
)
def test_few_idle_words_are_left(text: str, to_the_point: bool) -> None:
    """One unknown word for two that tell, known ones counting half, small ones nothing."""
    items = _items(text)
    assert is_to_the_point(items, Span(0, 1), Span(0, len(items))) is to_the_point


def test_a_known_word_must_stand_right_beside_the_place() -> None:
    """An unknown one may stand anywhere; small words and sides do not part."""
    assert stands_near(_items("sill hole zzz"), Span(2, 3), 0)
    assert stands_near(_items("sill the left really"), Span(3, 4), 0)
    assert not stands_near(_items("sill hole really"), Span(2, 3), 0)
    assert not stands_near(_items("really hole sill"), Span(0, 1), 2)


def test_a_side_belongs_to_the_places_beside_it() -> None:
    """It is looked for up to the next place on either hand."""
    items = _items("left sill hole sill hole sill zzz left")
    assert [has_side(items, at) for at in (1, 3, 5)] == [True, False, True]
