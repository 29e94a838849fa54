"""The baselines find what they should: a comparison with broken ones would prove nothing."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from importlib.util import find_spec
from typing import Any

import pytest
from corpus import Said

from voicelog.domain.heard import Heard
from voicelog.yardstick.strict import Answer, asked

BASELINES = [
    name
    for name, needs in (
        ("keyword_search", "voicelog"), ("best_match", "rapidfuzz"), ("intent_library", "hassil"),
    )
    if find_spec(needs) is not None
]  # fmt: skip

Understand = Callable[[Sequence[Said], Mapping[str, str]], Answer]


@pytest.fixture(params=BASELINES)
def understand(request: pytest.FixtureRequest) -> Understand:
    """Each baseline whose library is there."""
    found: Understand = import_module(request.param).understand
    return found


def entries(understand: Understand, *texts: str, **flags: str) -> list[dict[str, Any]]:
    """What a baseline makes of utterances three seconds apart."""
    said = [Said(3.0 * number, (Heard.typed(text),)) for number, text in enumerate(texts)]
    return [asked(got.slots) for got in understand(said, flags).entries]


RAIL = {"zone": "front-rail", "side": "left"}


def test_a_plain_sentence(understand: Understand) -> None:
    """Place, side, condition and a size."""
    found = entries(understand, "left front rail, hole, fifteen millimetres")
    assert found == [{"kind": "finding", **RAIL, "condition": "hole", "size_mm": 15}]


def test_the_place_carries_over(understand: Understand) -> None:
    """Until another is named, which takes no side with it."""
    found = entries(understand, "left front rail, clean", "surface rust", "fuel tank, crack")
    assert found == [
        {"kind": "clear", **RAIL},
        {"kind": "finding", **RAIL, "condition": "surface-rust"},
        {"kind": "finding", "zone": "fuel-tank", "condition": "crack"},
    ]


def test_a_number_before_the_condition_is_a_count(understand: Understand) -> None:
    """Numbers are read as voicelog reads them."""
    found = entries(understand, "left front rail, three cracks")
    assert found == [{"kind": "finding", **RAIL, "condition": "crack", "count": 3}]


def test_sides_follow_the_speaker(understand: Understand) -> None:
    """Kerb and seat are resolved by the settings."""
    found = entries(understand, "driver side sill, surface rust", driver_side="right")
    assert found[0]["side"] == "right"


def test_nothing_said_makes_nothing(understand: Understand) -> None:
    """Talk without any phrase of the trade."""
    assert entries(understand, "well then") == []


def test_likeness_finds_a_misheard_phrase() -> None:
    """And marks the entry, for the phrase was not there word for word."""
    best_match = import_module("best_match")
    made = best_match.understand([Said(0.0, (Heard.typed("left front rail, delaxmination"),))], {})
    assert asked(made.entries[0].slots)["condition"] == "delamination"
    assert made.entries[0].doubts


IN_ONE_BREATH = {"keyword_search": 1, "best_match": 1, "intent_library": 2}
"""Entries that each can make of one sentence."""


@pytest.mark.parametrize("name", BASELINES)
def test_two_findings_in_one_breath(name: str) -> None:
    """The intent library knows the order of the phrases, which the others do not use."""
    found = entries(
        import_module(name).understand, "left front rail, surface rust, no cracks, right sill, hole"
    )
    assert len(found) == IN_ONE_BREATH[name]
