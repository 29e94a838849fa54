"""Several places in one breath: each gets its own side, its own end, and what was found."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act
from voicelog.interpret.reader import Reader

Where = tuple[str, str, str]
"""Zone, side and condition; empty where nothing was said."""


@pytest.fixture(scope="module")
def reader() -> Reader:
    """The shipped words and map; a reader remembers nothing between utterances."""
    grammar = load_grammar()
    return Reader(grammar.vocabulary, grammar.zone_map)


def _read(reader: Reader, text: str) -> list[Where]:
    names = ("zone", "side", "condition")
    said = reader.read(Heard.typed(text)).statements
    return [tuple(str(one.slots.get(name, "")) for name in names) for one in said]  # type: ignore[misc]


@pytest.mark.parametrize(
    "text",
    [
        "Left front rail. Right rear rail, hole.",
        "left front rail right rear rail hole",
        "okay, left front rail. now on the right rear rail there's a hole",
    ],
)
def test_a_side_before_a_name_is_of_that_name(reader: Reader, text: str) -> None:
    """Whoever goes on to the next place says its side first; the place before keeps its own."""
    assert _read(reader, text) == [("front-rail", "left", ""), ("rear-rail", "right", "hole")]


def test_without_a_side_the_next_name_still_has_its_own(reader: Reader) -> None:
    """A stop ends the first place, and the side belongs to the second."""
    found = _read(reader, "front rail, left rear rail, hole")
    assert found == [("front-rail", "", ""), ("rear-rail", "left", "hole")]


@pytest.mark.parametrize(
    "text",
    [
        "left front, mid and rear rail surface rust",
        "left front rail, mid rail and rear rail, surface rust",
    ],
)
def test_a_list_of_places_shares_what_was_found(reader: Reader, text: str) -> None:
    """Every one of them has the fault, on the side that was said once."""
    zones = ("front-rail", "mid-rail", "rear-rail")
    assert sorted(_read(reader, text)) == [(zone, "left", "surface-rust") for zone in zones]


def test_a_list_behind_the_fault_shares_it_too(reader: Reader) -> None:
    """The further places are said to be the same; their side is asked, since only the first has one."""
    said = reader.read(
        Heard.typed("surface rust on the left front rail, the mid rail and the rear rail")
    ).statements
    assert [one.act for one in said] == [Act.REPORT, Act.SAME, Act.SAME]
    assert [one.slots["zone"] for one in said] == ["front-rail", "mid-rail", "rear-rail"]


def test_a_name_said_once_is_of_both_ends(reader: Reader) -> None:
    """ "Front and rear rail": nobody says the noun twice."""
    assert _read(reader, "left front and rear rail, surface rust") == [
        ("front-rail", "left", "surface-rust"),
        ("rear-rail", "left", "surface-rust"),
    ]
    assert _read(reader, "left front and right rear rail have surface rust") == [
        ("front-rail", "left", "surface-rust"),
        ("rear-rail", "right", "surface-rust"),
    ]


@pytest.mark.parametrize(
    ("text", "zones"),
    [
        ("hole at the front, and rear rail clean", ["rear-rail"]),
        ("left rail at the front, hole", ["front-rail"]),
        ("left outrigger. rear rail and body mount, hole", ["rear-rail", "cab-mount"]),
    ],
)
def test_what_is_no_list_is_none(reader: Reader, text: str, zones: list[str]) -> None:
    """An end before a comma, or a list behind a full stop, shares nothing with what came before."""
    assert [zone for zone, _, condition in _read(reader, text) if condition] == zones
