"""The conditions of rules: every key, and what is wrong with a rule."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.config.when import When
from voicelog.domain.grade import Rule
from voicelog.domain.zone import ZoneMap
from voicelog.errors import GrammarFault
from voicelog.findings.facts_of import FactFinder
from voicelog.findings.when import KEYS, checks_of

LIMITS = {"much": 25.0}


def fits(when: dict[str, Any], zone_map: ZoneMap, entry: Any) -> bool:
    """Whether a rule with these conditions fits the entry."""
    (facts,) = FactFinder(zone_map, {}).facts(entry, entry.text)
    rule = Rule("r", "text", "source", when)
    return all(check(facts) for check in checks_of(rule, LIMITS).values())


@pytest.mark.parametrize(
    ("key", "value", "slots", "others"),
    [
        ("condition", ("hole",), {"condition": "hole"}, {"condition": "scale"}),
        ("condition", "hole", {"condition": "hole"}, {}),
        ("role", ["critical"], {"zone": "shock-mount"}, {"zone": "mid-rail"}),
        ("zone", ("sill",), {"zone": "sill"}, {"zone": "mid-rail"}),
        ("side", ("left",), {"side": "left"}, {"side": "right"}),
        ("side", ("left",), {"side": "both"}, {"side": "centre"}),
        ("side", ("centre",), {"side": "centre"}, {"side": "both"}),
        ("part", ("seam",), {"part": "seam"}, {"part": "web"}),
        ("layer", ("metal",), {"layer": "metal"}, {"layer": "coating"}),
        ("probe", ("soft",), {"probe": "soft"}, {}),
        ("unprobed", True, {}, {"probe": "firm"}),
        ("unprobed", False, {"probe": "firm"}, {}),
        ("method", ("scoped",), {"method": "scoped"}, {"method": "seen"}),
        ("surround", ("none",), {"surround": "none"}, {"surround": "firm"}),
        ("certainty", ("stated",), {}, {"certainty": "tentative"}),
        ("near_mount", True, {"zone": "shock-mount"}, {"zone": "mid-rail"}),
        ("distance_known", False, {}, {"mount_distance_mm": 5}),
        ("loss_known", True, {"loss_percent": 5}, {"thickness_mm": 2.0}),
        ("loss_at_least", "much", {"loss_percent": 25}, {"loss_percent": 24.9}),
        ("loss_at_least", 10, {"loss_percent": 10}, {}),
        ("loss_below", 0, {"loss_percent": -1}, {"loss_percent": 0}),
        ("size_at_least", 30.0, {"size_mm": 30}, {"size_mm": 29}),
        ("landmark_words", ("drain",), {"landmark": "By the Drain"}, {"landmark": "drainage"}),
        ("said", ("Pop riveted",), {"text": "pop riveted plate"}, {"text": "riveted"}),
        ("said", ("dent",), {"text": "no hole, a dent"}, {"text": "isn't a dent"}),
    ],
)
def test_every_key(
    key: str,
    value: object,
    slots: dict[str, Any],
    others: dict[str, Any],
    zone_map: ZoneMap,
    make: Any,
) -> None:
    """Each key fits what it names, and nothing else."""
    base = {"zone": "mid-rail"}
    assert fits({key: value}, zone_map, make(**base | slots))
    assert not fits({key: value}, zone_map, make(**base | others))


def test_all_keys_must_fit(zone_map: ZoneMap, make: Any) -> None:
    """One that does not is enough; none asked for fits everything."""
    entry = make(zone="mid-rail", condition="hole")
    assert fits({"condition": ("hole",), "zone": ("mid-rail",)}, zone_map, entry)
    assert not fits({"condition": ("hole",), "zone": ("sill",)}, zone_map, entry)
    assert fits({}, zone_map, entry)


@pytest.mark.parametrize(
    "when",
    [
        {"colour": ("red",)},
        {"loss_at_least": "no-such-limit"},
        {"loss_at_least": True},
        {"unprobed": "yes"},
        {"condition": (1, 2)},
    ],
)
def test_what_cannot_be_tested_is_refused(when: dict[str, Any]) -> None:
    """The message names the rule, the key and what the key means."""
    (key,) = when
    with pytest.raises(GrammarFault, match=key) as caught:
        checks_of(Rule("odd-rule", "text", "source", when), LIMITS)
    assert "odd-rule" in caught.value.message
    assert key in caught.value.hint


def test_the_loader_knows_the_same_keys() -> None:
    """A rule file that loads can be tested, and the other way round."""
    assert set(When.model_fields) == set(KEYS)
