"""What hands that had not seen the vocabulary wrote, by the rule that each of them needs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader


@pytest.fixture(scope="module")
def reader() -> Reader:
    """The shipped words and map; a reader remembers nothing between utterances."""
    grammar = load_grammar()
    return Reader(grammar.vocabulary, grammar.zone_map)


ONE: Mapping[str, tuple[str, Mapping[str, Any]]] = {
    "a number without a unit is a distance before from": (
        "crack in the front rail right, twenty mil long and fifty from the steering box",
        {"size_mm": 20.0, "width_mm": None, "mount_distance_mm": 50.0},
    ),
    "the bolt of a critical mounting is the mounting": (
        "seat belt anchor left, hole ten mil across, thirty five mil from the bolt",
        {"size_mm": 10.0, "mount_distance_mm": 35.0},
    ),
    "the bolt of any other part is none": (
        "left sill, hole ten mil across, thirty five mil from the bolt",
        {"size_mm": 10.0, "mount_distance_mm": None},
    ),
    "a place after such a bolt is where it is": (
        "seventeen mil hole, thirty mil from the bolt, right control arm mount",
        {"zone": "control-arm-mount", "side": "right", "mount_distance_mm": 30.0},
    ),
    "of several faults the larger size counts alone": (
        "steering box mount, two cracks, twenty two and fourteen mil",
        {"count": 2, "size_mm": 22.0, "width_mm": None},
    ),
    "a guess at a number is no second dimension": (
        "right frame horn, hole, fifteen mil or thereabouts, might be sixteen",
        {"size_mm": 16.0, "width_mm": None},
    ),
    "two dimensions are still two": (
        "left sill, hole, six by four inches", {"size_mm": 152.4, "width_mm": 101.6},
    ),
    "half gone is no thickness": (
        "right kick-up, two millimetres of metal out of four, half gone, thin",
        {"thickness_mm": 2.0, "nominal_mm": 4.0},
    ),
    "what a tap left is no side": (
        "right crush section, dent left when I tapped it", {"side": "right", "probe": "dents"},
    ),
    "a side that only details follow belongs to what was said": (
        "body mount hole right solid metal around it maybe seventy millimetres",
        {"side": "right", "surround": "firm", "size_mm": 70.0},
    ),
    "neither denies of both": (
        "neither engine mount has any rust on it", {"zone": "engine-mount", "side": "both"},
    ),
    "what is underneath mud is on no side": (
        "left engine mount, caked in mud, no rust underneath",
        {"condition": "debris", "face": None},
    ),
    "a time before a repair is past": (
        "tank strap snapped one time, been welded since", {"condition": "old-repair"},
    ),
    "what was only thought still says where": (
        "thought it was a hole in the offside floor pan, it's only mud",
        {"zone": "floor-pan", "side": "right", "condition": "debris"},
    ),
    "a question to oneself is no talk": (
        "what have we here, a lump of filler in the right outrigger",
        {"zone": "outrigger", "side": "right", "condition": "filler"},
    ),
    "the verb of a clause asks nothing": (
        "all that was there of the left body mount, number four, has rotted through",
        {"zone": "cab-mount", "ordinal": 4, "condition": "hole"},
    ),
}  # fmt: skip


@pytest.mark.parametrize(("said", "wanted"), ONE.values(), ids=list(ONE))
def test_one_statement(reader: Reader, said: str, wanted: Mapping[str, Any]) -> None:
    """The slots named, lengths as said; None stands for a slot left out."""
    (statement,) = reader.read(Heard.typed(said)).statements
    assert {name: statement.slots.get(name) for name in wanted} == dict(wanted)


@pytest.mark.parametrize(
    ("said", "places"),
    [
        (
            "leak on the fuel tank behind it, and a seized bolt on the right tank strap",
            [("fuel-tank", None, "leak"), ("tank-strap", "right", "seized-fixing")],
        ),
        (
            "hole, left sill, twenty mil, hole, right sill, thirty five mil",
            [("sill", "left", "hole"), ("sill", "right", "hole")],
        ),
        (
            "left kick-up's got a hole and scale round the hole too, right kick-up is clean",
            [("kick-up", "left", "hole"), (None, None, "scale"), ("kick-up", "right", None)],
        ),
        (
            "spare carrier and tow hitch, both clean",
            [("spare-carrier", None, None), ("tow-hitch", None, None)],
        ),
    ],
)
def test_several_statements(
    reader: Reader, said: str, places: list[tuple[str | None, ...]]
) -> None:
    """Each with its own place; one without a place has that of the one before it."""
    made = reader.read(Heard.typed(said)).statements
    told = [tuple(s.slots.get(name) for name in ("zone", "side", "condition")) for s in made]
    assert told == places


def test_metal_under_mud_is_clear(reader: Reader) -> None:
    """ "No rust underneath": somebody looked below the dirt; "no rust, just mud" did not."""
    (looked,) = reader.read(Heard.typed("left sill, caked in mud, no rust underneath")).statements
    (did_not,) = reader.read(Heard.typed("left sill, no rust, just mud")).statements
    assert (looked.clear, did_not.clear) == (True, False)
