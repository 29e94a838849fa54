"""Words that only draw breath, and those that look like it and are sides."""

from __future__ import annotations

import pytest

from voicelog.interpret.breath import without_breaths
from voicelog.interpret.cover import Item


def _items(*words: tuple[str, str]) -> list[Item]:
    """Items of (text, slot), a comma at the end of the text being its stop."""
    return [
        Item(slot, text.rstrip(","), at, at + 1, text=text.rstrip(","), stop="," * text.count(","))
        for at, (text, slot) in enumerate(words)
    ]


_RIGHT, _SILL, _SCALE = ("right,", "side"), ("sill", "zone"), ("scale", "condition")


@pytest.mark.parametrize(
    ("words", "slots"),
    [
        ([_RIGHT, _SILL, _SCALE], ["side", "zone", "condition"]),
        ([_RIGHT, ("left", "side"), _SILL], ["ignore", "side", "zone"]),
        ([_RIGHT, _SCALE], ["ignore", "condition"]),
        ([_RIGHT], ["side"]),
        ([("okay", "ignore"), _RIGHT, _SCALE], ["ignore", "ignore", "condition"]),
        ([("okay", "act")], ["act"]),
        ([("all right", "ignore"), _SILL], ["side", "zone"]),
        ([("all right,", "act"), _SILL], ["ignore", "zone"]),
        ([("all right", "clear")], ["clear"]),
        ([("left", "side"), ("sill,", "zone"), _RIGHT, _SCALE], ["side", "zone", "ignore", "condition"]),
        (
            [("not", "negation"), ("left,", "side"), _RIGHT, _SCALE],
            ["negation", "side", "side", "condition"],
        ),
        ([_RIGHT, ("sill,", "zone"), _RIGHT, _SCALE], ["side", "zone", "ignore", "condition"]),
    ],
)  # fmt: skip
def test_a_breath_is_ignored(words: list[tuple[str, str]], slots: list[str]) -> None:
    """Only what says no side is taken for a breath."""
    assert [item.slot for item in without_breaths(_items(*words))] == slots


def test_nothing_said() -> None:
    """No items in, none out."""
    assert without_breaths([]) == []
