"""What a number measures, by the words round it."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from voicelog.domain.reading import Speech
from voicelog.domain.slot import SlotValue
from voicelog.interpret.around import measures_of
from voicelog.interpret.cover import Item
from voicelog.interpret.labels import DISTANCE, slot_of
from voicelog.interpret.measures import measure_at

_WORDS = {
    "deep": ("label", "depth_mm"), "wide": ("label", "width_mm"), "thickness": ("label", "thickness_mm"),
    "left-of": ("label", "left"), "reads": ("lead", "thickness_mm"), "left": ("side", "left"),
    "number": ("ordinal", "number"), "mount": ("zone", "cab-mount"), "from": ("relation", "from"),
    "holes": ("condition", "hole"), "scale": ("condition", "scale"), "thin": ("condition", "thinning"),
    "gone": ("label", "loss_percent"), "uh": ("filler", "light"),
}  # fmt: skip
_NUMBERS = ("measure", "label", "lead", "ordinal")


def _items(text: str) -> list[Item]:
    """A number with its unit joined by a hyphen is one item, as is every other word."""
    items = []
    for at, said in enumerate(text.split()):
        word = said.rstrip(",")
        measure = measure_at(word.split("-"), 0, Speech())
        slot, value = ("measure", word) if measure else _WORDS.get(word, ("unknown", ""))
        stop = said[len(word) :]
        items.append(Item(slot, value, at, at + 1, text=word, stop=stop, measure=measure))
    return items


def _first(
    text: str, condition: str | None = None, settled: Mapping[str, SlotValue] | None = None
) -> str:
    """The slot of the first number."""
    items = _items(text)
    numbers = [item for item in items if item.slot in _NUMBERS]
    return slot_of(next(measures_of(items, numbers, condition, settled or {})))


@pytest.mark.parametrize(
    ("text", "condition", "slot"),
    [
        ("three-mil deep", "pitting", "depth_mm"),
        ("deep three-mil", "pitting", "depth_mm"),
        ("three-mil, deep", "hole", "depth_mm"),
        ("three-mil reads", "hole", "size_mm"),
        ("reads three-mil", None, "thickness_mm"),
        ("two left", None, "thickness_mm"),
        ("two-mil left-of", None, "thickness_mm"),
        ("left-of three-mil", None, "nominal_mm"),
        ("two-mil new", None, "nominal_mm"),
        ("six-inches from", "hole", DISTANCE),
        ("twenty-percent", "scale", "area_percent"),
        ("twenty-percent uh gone", "scale", "loss_percent"),
        ("three holes", "hole", "count"),
        ("three, holes", "hole", ""),
        ("two bolts", "seized-fixing", "count"),
        ("number two", "scale", "ordinal"),
        ("mount two", "scale", "ordinal"),
        ("mount two holes", "hole", "count"),
        ("two-mil", "thinning", "thickness_mm"),
        ("three-mil", "pitting", "depth_mm"),
        ("forty-mil", "pitting", "size_mm"),
        ("three-mil", None, "size_mm"),
        ("three", None, ""),
    ],
)  # fmt: skip
def test_the_slot_of_a_number(text: str, condition: str | None, slot: str) -> None:
    """The label right after it, the one before, what it counts, then the condition."""
    assert _first(text, condition) == slot


def test_what_is_settled_is_not_settled_again() -> None:
    """With the thickness known, the other number is what it was, and the other way round."""
    assert _first("two-mil", "thinning", {"thickness_mm": 1.5}) == "nominal_mm"
    assert _first("two-mil", None, {"nominal_mm": 4.0}) == "thickness_mm"
    assert _first("three-mil deep", "hole", {"depth_mm": 1.0}) == "size_mm"
