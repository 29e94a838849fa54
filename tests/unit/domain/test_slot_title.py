"""Slots and their values in people's words."""

from __future__ import annotations

import pytest

from voicelog.domain.slot import SLOTS
from voicelog.domain.slot_title import TITLES, number_title, slot_title, value_title
from voicelog.domain.zone import Layout, Role, Zone, ZoneMap

MAP = ZoneMap(
    "small", "Small", {"front-rail": Zone("front-rail", "Front leg", Role.PANEL, Layout.ONE)}
)


def test_every_slot_has_a_name_that_no_program_wrote() -> None:
    """No underscore, no unit; one that a newer version writes goes by its own with spaces."""
    assert set(TITLES) == set(SLOTS)
    assert not any("_" in title or " mm" in title for title in TITLES.values())
    assert slot_title("weld_gap") == "weld gap"


@pytest.mark.parametrize(
    ("slot", "value", "title"),
    [
        ("zone", "front-rail", "front leg"), ("zone", "mid-rail", "mid rail"),
        ("face", "interior", "inside"), ("condition", "old-repair", "old repair"),
        ("plate", "AB-12", "AB-12"),
    ],
)  # fmt: skip
def test_a_value_is_called_as_on_the_map_in_force(slot: str, value: str, title: str) -> None:
    """A zone by its title where the map has it; what was spelled keeps its hyphen."""
    assert value_title(slot, value, MAP) == title


def test_a_number_says_what_it_measures() -> None:
    """With its unit, where its slot has one."""
    assert number_title("mount_distance_mm", 300.0) == "distance to a mounting 300 mm"
    assert number_title("loss_percent", 12.5) == "wall lost 12.5 %"
    assert number_title("count", 4) == "how many 4"
