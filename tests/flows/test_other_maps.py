"""Inspections of vehicles that are no ladder frame, from text to entries and verdict."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from voicelog.config.settings import load_settings
from voicelog.domain.entry import Inspection
from voicelog.export.answer import answer
from voicelog.runtime.logs import open_log
from voicelog.runtime.opening import open_reading

PAUSE_S = 3.0
"""Between two utterances, from the end of one to the end of the next."""

UNIBODY = [
    ("left sill, hole, ten mil", ("sill", "left", "hole", "repair")),
    ("driver side rocker panel, flaking metal", ("sill", "right", "scale", "repair")),
    ("nearside strut tower, scraper sank in", ("strut-tower", "left", "soft-spot", "unsafe")),
    ("right front chassis leg is kinked", ("front-rail", "right", "deformation", "unsafe")),
    ("left lower chassis rail, surface rust, firm", ("front-rail", "left", "surface-rust", "cosmetic")),
    ("upper chassis rail on the left, hole", ("upper-rail", "left", "hole", "repair")),
    ("right inner fender, rust bubbles", ("inner-wing", "right", "blistering", "treat")),
    ("left A pillar, crack", ("a-post", "left", "crack", "repair")),
    ("right see pillar, surface rust", ("c-post", "right", "surface-rust", "cosmetic")),
    ("boot floor left, hole as big as a quarter", ("boot-floor", "left", "hole", "repair")),
    ("spare wheel well, rotten", ("spare-wheel-well", None, "hole", "repair")),
    ("rear subframe, scraper went through", ("rear-subframe", None, "hole", "unsafe")),
    ("left rear subframe mount, pack rust", ("rear-subframe-mount", "left", "pack-rust", "unsafe")),
    ("right trailing arm mount, crack", ("radius-arm-mount", "right", "crack", "unsafe")),
    ("left seat belt anchor, soft", ("seat-belt-anchor", "left", "soft-spot", "unsafe")),
    ("right jacking point crushed", ("jacking-point", "right", "deformation", "repair")),
    ("transmission tunnel, crack", ("tunnel", None, "crack", "repair")),
    ("rear suspension cross beam, pitting", ("rear-cross-member", None, "pitting", "repair")),
    ("brake pipe, pitted", ("brake-line", None, "pitting", "repair")),
    ("left crash box, hole", ("crush-section", "left", "hole", "unsafe")),
]  # fmt: skip

BACKBONE = [
    ("backbone tube, hole, thirty mil", ("backbone", None, "hole", "repair")),
    ("spine cracked", ("backbone", None, "crack", "unsafe")),
    ("left front fork is kinked", ("front-fork", "left", "deformation", "unsafe")),
    ("rear fork on the right, soft", ("rear-fork", "right", "soft-spot", "repair")),
    ("gearbox bay, surface rust, firm", ("gearbox-bay", None, "surface-rust", "cosmetic")),
    ("left outrigger, rotten, no solid metal left", ("outrigger", "left", "hole", "repair")),
    ("right side tube, flaking metal", ("side-rail", "right", "scale", "repair")),
    ("left sill, hole, ten mil", ("sill", "left", "hole", "repair")),
    ("left body mount, hole", ("cab-mount", "left", "hole", "repair")),
    ("final drive mount, crack", ("differential-mount", None, "crack", "repair")),
    ("left front damper mount, hole", ("strut-tower", "left", "hole", "unsafe")),
    ("right rear damper mount, crack", ("shock-mount", "right", "crack", "unsafe")),
    ("left wishbone mount, crack", ("control-arm-mount", "left", "crack", "unsafe")),
    ("rear cross member, layered rust", ("rear-cross-member", None, "delamination", "repair")),
    ("right floor pan, hole", ("floor-pan", "right", "hole", "repair")),
    ("inside the backbone, scale", ("backbone", None, "scale", "repair")),
]  # fmt: skip


def inspected(
    tmp_path: Path, map_id: str, *lines: str, pause_s: float = PAUSE_S, **more: Any
) -> Inspection:
    """What comes of these utterances on a map."""
    no_settings = tmp_path / "settings.toml"
    no_settings.touch()
    given = {"map": map_id, "driver_side": "right", **more}
    settings = load_settings(given, user_file=no_settings, environ={})
    with open_reading(settings, keep="into" in more) as session:
        for number, text in enumerate(lines):
            session.read(text, at_s=number * pause_s)
        return session.inspection()


def findings(inspection: Inspection) -> list[dict[str, Any]]:
    """The entries of the answer that are no remarks."""
    return [one for one in answer(inspection)["entries"] if one["kind"] != "remark"]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    """The entry of each sentence, all sentences of a map in one inspection, a minute apart."""
    folder = tmp_path_factory.mktemp("maps")
    return {
        text: entry
        for map_id, cases in (("unibody", UNIBODY), ("backbone", BACKBONE))
        for text, entry in _told(folder, map_id, [text for text, _ in cases])
    }


def _told(folder: Path, map_id: str, lines: list[str]) -> Iterator[tuple[str, dict[str, Any]]]:
    entries = findings(inspected(folder, map_id, *lines, pause_s=60.0))
    for text, entry in zip(lines, entries, strict=True):
        yield f"{map_id}: {text}", entry


@pytest.mark.parametrize(
    ("text", "wanted"),
    [(f"unibody: {text}", wanted) for text, wanted in UNIBODY]
    + [(f"backbone: {text}", wanted) for text, wanted in BACKBONE],
)
def test_what_is_said_is_understood(
    text: str, wanted: tuple[str, ...], told: dict[str, dict[str, Any]]
) -> None:
    """Place, side, condition and grade, without a doubt."""
    entry = told[text]
    got = tuple(entry.get(name) for name in ("zone", "side", "condition", "grade"))
    assert (got, entry["doubtful"]) == (wanted, False)


@pytest.mark.parametrize(
    ("map_id", "text", "options"),
    [
        ("unibody", "left chassis leg, scale", ["front-rail", "mid-rail", "rear-rail"]),
        ("unibody", "left pillar, surface rust", ["a-post", "b-post", "c-post"]),
        ("unibody", "subframe, hole", ["front-subframe", "rear-subframe"]),
        ("unibody", "right subframe mount, crack", ["front-subframe-mount", "rear-subframe-mount"]),
        ("unibody", "left turret, crack", ["strut-tower", "shock-mount"]),
        ("unibody", "right wheel arch, holed", ["inner-wing", "wheel-arch"]),
        ("backbone", "left chassis rail, crack", ["front-fork", "rear-fork"]),
        ("backbone", "right damper mount, hole", ["strut-tower", "shock-mount"]),
    ],
)
def test_a_name_that_places_share_is_asked_about(
    map_id: str, text: str, options: list[str], tmp_path: Path
) -> None:
    """And graded by the worst of them meanwhile."""
    (entry,) = findings(inspected(tmp_path, map_id, text))
    assert entry["doubtful"]
    assert [(q["slot"], q["options"]) for q in entry["questions"]] == [("zone", options)]


@pytest.mark.parametrize(
    ("text", "zone"),
    [
        ("rear left chassis leg, scale", "rear-rail"),
        ("front pillar on the left, hole", "a-post"),
        ("centre pillar on the left, hole", "b-post"),
        ("rear subframe, hole", "rear-subframe"),
        ("front left turret, crack", "strut-tower"),
        ("rear right wheel arch, hole", "wheel-arch"),
    ],
)
def test_a_spoken_end_settles_it(text: str, zone: str, tmp_path: Path) -> None:
    """Wherever in the sentence it stands."""
    (entry,) = findings(inspected(tmp_path, "unibody", text))
    assert (entry["zone"], entry["doubtful"]) == (zone, False)


def verdict(tmp_path: Path, map_id: str, *lines: str) -> tuple[str, str]:
    """How much work it is, and the tier."""
    told = inspected(tmp_path, map_id, *lines).verdict
    return told.work, told.tier


def test_both_sills_of_a_unibody_are_repair(tmp_path: Path) -> None:
    """They are cut out and welded in new; a leg's shape is what cannot be brought back."""
    rotten = ("left sill, scraper went through", "right sill, rotten")
    assert verdict(tmp_path, "unibody", *rotten) == ("local", "repairable")


def test_a_sill_with_nothing_left_to_weld_to_is_major(tmp_path: Path) -> None:
    """Structure on this kind of vehicle, and no part that is bolted on."""
    bare = "left sill, rotten, no solid metal left"
    assert verdict(tmp_path, "unibody", bare) == ("major", "repairable")
    assert verdict(tmp_path, "backbone", bare) == ("local", "repairable")


def test_a_bolted_subframe_is_replaced(tmp_path: Path) -> None:
    """Even with nothing left of it, the shell is not the worse for it."""
    bare = "rear subframe, rotten, no solid metal left"
    told = inspected(tmp_path, "unibody", bare).verdict
    assert (told.work, told.tier) == ("local", "repairable")
    assert any("routine replacement" in reason for reason in told.because)


@pytest.mark.parametrize(
    ("map_id", "lines"),
    [
        ("unibody", ["left front chassis leg is kinked"]),
        ("unibody", ["left rear chassis leg, hole", "right rear chassis leg, soft"]),
        ("unibody", ["right front chassis leg, rotten, no solid metal left"]),
        ("backbone", ["both rear forks rotten"]),
        ("backbone", ["backbone, rotten, no solid metal left"]),
        ("backbone", ["the backbone tube is bent"]),
    ],
)
def test_a_lost_main_member_is_beyond_repair(map_id: str, lines: list[str], tmp_path: Path) -> None:
    """Out of shape, rotten on both sides at one station, or nothing left of it."""
    assert verdict(tmp_path, map_id, *lines) == ("replacement-or-specialist", "beyond-repair")


def test_a_hole_near_a_belt_anchor_makes_a_sill_unsafe(tmp_path: Path) -> None:
    """The prescribed area reaches 30 cm; without a distance the tool asks for it."""
    (near,) = findings(
        inspected(tmp_path, "unibody", "left sill, hole, six inches from the belt anchor")
    )
    assert near["grade"] == "unsafe"
    inspection = inspected(tmp_path, "unibody", "left sill, hole")
    assert "how far" in " ".join(inspection.findings[0].cautions)


def test_rot_in_a_jacking_point_warns_whoever_is_under_it(tmp_path: Path) -> None:
    """Whether it is the place or named as a landmark."""
    for text in ("left jacking point, soft", "hole in the left sill by the jacking point"):
        (finding,) = inspected(tmp_path, "unibody", text).findings
        assert any("come out from under" in caution for caution in finding.cautions)


@pytest.mark.parametrize("zone", ["boot floor", "transmission tunnel", "spare wheel well"])
def test_what_closes_the_cabin_keeps_people_out(zone: str, tmp_path: Path) -> None:
    """A hole lets exhaust in, in the boot as in the floor."""
    assert inspected(tmp_path, "unibody", f"{zone}, hole").verdict.drive == "do-not-drive"


@pytest.mark.parametrize("map_id", ["unibody", "backbone"])
def test_a_log_is_folded_with_its_own_maps(map_id: str, tmp_path: Path) -> None:
    """The map in force and those it takes places from lie in the log; both give what was said."""
    into = tmp_path / "logs"
    said = inspected(tmp_path, map_id, "left sill, hole, ten mil", into=str(into))
    (folder,) = into.iterdir()
    kept = {path.stem for path in (folder / "grammar" / "maps").iterdir()}
    assert kept >= {map_id, "ladder-frame"}
    opened = open_log(folder)
    assert opened.grammar.zone_map.id == map_id
    assert opened.inspection.verdict == said.verdict
    first = json.loads((folder / "journal.jsonl").read_text("utf-8").splitlines()[0])
    assert first["map"] == map_id
