"""What maps say of a place beside its role; and maps that were written before they could."""

from __future__ import annotations

import re
import shutil
from itertools import product
from pathlib import Path

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.grade import Verdict
from voicelog.domain.slot import CONDITIONS, PROBES, Slots
from voicelog.domain.zone import Rails, Zone
from voicelog.findings.grading import Grader
from voicelog.findings.ledger import Ledger

RAILS = '"front-rail", "mid-rail", "rear-rail", "kick-up"'


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped one."""
    return load_grammar()


@pytest.fixture(scope="module")
def earlier(tmp_path_factory: pytest.TempPathFactory) -> Grammar:
    """The same as logs hold it that were begun before there were such keys: the map without them,
    and rules that name zones.
    """
    folder = tmp_path_factory.mktemp("earlier") / "grammar"
    shutil.copytree(grammar_dir(), folder)
    places = folder / "maps" / "ladder-frame.toml"
    keys = re.compile(r"^(main|routine|cabin|carries) = .*\n", re.MULTILINE)
    places.write_text(keys.sub("", places.read_text("utf-8")), "utf-8")
    rules = folder / "rules" / "frame.toml"
    text = rules.read_text("utf-8").replace("main_member = true", f"zone = [{RAILS}]")
    text = text.replace("cabin = true", 'zone = ["floor-pan", "bulkhead"]')
    rules.write_text(text, "utf-8")
    return load_grammar(folder=folder)


def zones(grammar: Grammar, key: str) -> set[str]:
    """The places for which a key is true."""
    return {zone.id for zone in grammar.zone_map.zones.values() if getattr(zone, key)}


def test_the_ladder_frame_says_what_its_ids_meant(grammar: Grammar, earlier: Grammar) -> None:
    """A map without a key has it by the ids of its places, as the program had it in its code."""
    assert zones(grammar, "main") == {"front-rail", "mid-rail", "rear-rail", "kick-up"}
    assert zones(grammar, "routine") == {
        *("outrigger", "front-cross-member", "gearbox-cross-member", "rear-cross-member"),
    }
    assert zones(grammar, "cabin") == {"floor-pan", "bulkhead"}
    for key in ("main", "routine", "cabin"):
        assert zones(earlier, key) == zones(grammar, key)
    assert zones(earlier, "carries") == set()


def entry(number: int, slots: Slots) -> Entry:
    """A finding; slots that are None were not said."""
    known = {name: value for name, value in slots.items() if value is not None}
    at = "2026-01-05T08:00:00Z"
    return Entry(f"e{number}.1", f"u{number}", at, Kind.FINDING, known)


def test_an_earlier_log_is_graded_as_it_was(grammar: Grammar, earlier: Grammar) -> None:
    """Every condition at every place, whatever the probe did and whatever else was said."""
    now, then = (Grader(one.zone_map, one.rules) for one in (grammar, earlier))
    for condition, zone, probe in product(CONDITIONS, grammar.zone_map.zones, (None, *PROBES)):
        found = entry(1, {"condition": condition, "zone": zone, "probe": probe})
        for words in ("", "dented and kinked", "dent"):
            assert now.grade(found, words) == then.grade(found, words), (condition, zone, probe)


def test_an_earlier_log_has_the_verdict_it_had(grammar: Grammar, earlier: Grammar) -> None:
    """Kinks, rot on both sides, nothing left to weld to, holes in the cabin, at every place."""
    cases: list[Slots] = [
        {"condition": "deformation", "side": "left"},
        {"condition": "hole", "side": "both"},
        {"condition": "hole", "side": "left", "surround": "none"},
        {"condition": "surface-rust", "side": "right", "probe": "through"},
    ]
    for zone, case in product(grammar.zone_map.zones, cases):
        assert _verdict(grammar, {**case, "zone": zone}) == _verdict(
            earlier, {**case, "zone": zone}
        )


def _verdict(grammar: Grammar, slots: Slots) -> Verdict:
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
    ledger.apply([Add(entry(1, slots))])
    return ledger.inspection().verdict


def test_a_key_written_once_and_the_map_speaks_for_itself(cart: Path) -> None:
    """True or false: from then on no id means anything."""
    path = cart / "maps" / "cart.toml"
    text = path.read_text().replace("left-shaft", "kick-up")
    path.write_text(text)
    assert zones(load_grammar("cart", folder=cart), "main") == {"kick-up"}
    path.write_text(text.replace('id = "axle-block"\n', 'id = "axle-block"\nmain = false\n'))
    assert zones(load_grammar("cart", folder=cart), "main") == set()


def place(cart: Path, overlay: str) -> Zone:
    """The cart's shaft, renamed to what the ladder frame calls a rail, under an overlay."""
    path = cart / "maps" / "cart.toml"
    path.write_text(path.read_text().replace("left-shaft", "mid-rail"))
    shop = cart / "shop.toml"
    shop.write_text(f'[[zone]]\nid = "mid-rail"\n{overlay}\n')
    return load_grammar("cart", folder=cart, overlays=[shop]).zone_map["mid-rail"]


def test_an_overlay_sets_them(cart: Path) -> None:
    """Over what the map says, and over what its ids mean."""
    zone = place(cart, 'main = false\nroutine = true\ncabin = true\ncarries = "the load"')
    assert (zone.main, zone.routine, zone.cabin, zone.carries) == (False, True, True, "the load")


def test_an_overlay_about_something_else_leaves_them(cart: Path) -> None:
    """What an addition does not write stays."""
    assert place(cart, 'title = "Long shaft"').main
