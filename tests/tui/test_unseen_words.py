"""What is still unseen: the weightiest first, and how much of it."""

from __future__ import annotations

from typing import Any

from voicelog.domain.grade import Gap
from voicelog.domain.zone import Role
from voicelog.runtime.unseen_words import by_weight, counted, in_words, open_aloud


def test_critical_mountings_come_first_then_cavities(stage: Any) -> None:
    """Then load paths; a spare wheel's carrier last."""
    zone_map = stage.grammar.zone_map
    ordered = by_weight(stage.inspection().gaps, zone_map)
    roles = [zone_map[gap.zone].role for gap in ordered]
    critical = roles.count(Role.CRITICAL)
    assert set(roles[:critical]) == {Role.CRITICAL}
    cavities = [gap for gap in ordered[critical:] if gap.why == "cavity-not-seen"]
    assert cavities
    assert ordered[critical : critical + len(cavities)] == cavities
    assert roles[-1] is Role.ATTACHED


def test_counts_add_up(stage: Any) -> None:
    """Every gap is counted once."""
    gaps = stage.inspection("left front rail clean").gaps
    told = counted(gaps, stage.grammar.zone_map)
    assert sum(int(word) for word in told.split() if word.isdigit()) == len(gaps)


def test_nothing_open_is_said_so() -> None:
    """An empty line would look like a fault of the screen."""
    from voicelog.domain.zone import ZoneMap

    assert counted([], ZoneMap("none", "No places", {})) == "nothing"


def test_both_sides_of_a_place_are_one_line(stage: Any) -> None:
    """As a person would say it."""
    gaps = [Gap("shock-mount", "not-seen", side=side) for side in ("left", "right")]
    assert list(in_words(gaps, stage.grammar.zone_map)) == [
        "left and right shock mount: not looked at"
    ]


def test_places_of_no_map_and_hostile_ones_are_told_harmlessly(stage: Any) -> None:
    """A log of another map, or one that somebody has tampered with."""
    gap = Gap("moon\x1b[2J", "\u202eevil")
    (line,) = in_words(by_weight([gap], stage.grammar.zone_map), stage.grammar.zone_map)
    assert line.isprintable()


def test_aloud_an_unseen_place_is_not_called_unseen_inside_as_well(stage: Any) -> None:
    """Of a place that was looked at it is said."""
    zone_map = stage.grammar.zone_map
    both = [Gap("kick-up", why, side="left") for why in ("not-seen", "cavity-not-seen")]
    assert open_aloud(both, zone_map) == "open: 1 other. First: left kick-up: not looked at"
    assert open_aloud(both[1:], zone_map) == "open: 1 cavity. First: left kick-up: inside not seen"
    assert open_aloud([], zone_map) == "nothing is open"
    face = [Gap("kick-up", "not-seen", side="left", face="inboard"), both[1]]
    assert open_aloud(face, zone_map).startswith("open: 1 cavity, 1 other. First: left kick-up: ")
