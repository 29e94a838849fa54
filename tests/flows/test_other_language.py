"""A grammar in German, dropped in as data: what is said in it becomes the same entries."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import load_grammar
from voicelog.config.settings import load_settings
from voicelog.domain.slot import CONDITIONS
from voicelog.export.answer import answer
from voicelog.runtime.logs import open_log
from voicelog.runtime.opening import open_reading

GERMAN = grammar_dir() / "de"
PAUSE_S = 3.0
Wanted = tuple[Mapping[str, Any], ...]


def entries(tmp_path: Path, *said: str) -> list[dict[str, Any]]:
    """The entries of utterances in German, remarks included."""
    no_settings = tmp_path / "settings.toml"
    no_settings.touch()
    settings = load_settings({"grammar": GERMAN}, user_file=no_settings, environ={})
    with open_reading(settings, keep=False) as session:
        for number, text in enumerate(said):
            session.read(text, at_s=number * PAUSE_S)
        found: list[dict[str, Any]] = answer(session.inspection())["entries"]
        return found


FINDING = {"kind": "finding"}
SPOKEN: tuple[tuple[tuple[str, ...], Wanted], ...] = (
    (("linker Rahmenträger vorne, Flugrost, Metall ist fest",),
     ({**FINDING, "zone": "front-rail", "side": "left", "condition": "surface-rust", "probe": "firm"},)),
    (("hinterer Querträger, Loch fünfzehn Millimeter",),
     ({**FINDING, "zone": "rear-cross-member", "condition": "hole", "size_mm": 15},)),
    (("rechter Schweller durchgerostet, drei Löcher, das größte zwanzig Millimeter",),
     ({**FINDING, "zone": "sill", "side": "right", "condition": "hole", "count": 3, "size_mm": 20},)),
    (("rechter Schweller, Flugrost", "Schraubenzieher ging durch"),
     ({**FINDING, "zone": "sill", "condition": "hole", "probe": "through"},)),
    (("linke Querlenkeraufnahme, von innen, könnte ein Haarriss sein",),
     ({**FINDING, "zone": "control-arm-mount", "face": "interior", "condition": "crack", "certainty": "tentative"},)),
    (("rechte Stoßdämpferaufnahme, kein Rost, keine Löcher, fest",),
     ({"kind": "clear", "zone": "shock-mount", "side": "right", "absent": ["surface-rust", "hole"]},)),
    (("Rahmenkröpfung rechts, Wandstärke zwei Komma eins Millimeter, soll drei Millimeter",),
     ({**FINDING, "zone": "kick-up", "condition": "thinning", "thickness_mm": 2.1, "nominal_mm": 3},)),
    (("linker Radkasten, Unterrostung an der Naht",),
     ({**FINDING, "zone": "wheel-arch", "condition": "blistering", "part": "seam"},)),
    (("vorderer Federbock rechts, Lochfraß, etwa einen halben Zoll tief",),
     ({**FINDING, "zone": "front-spring-hanger", "condition": "pitting", "depth_mm": 12.7},)),
    (("rechter Ausleger, Blätterrost", "Korrektur, linke Seite"),
     ({**FINDING, "zone": "outrigger", "side": "left", "condition": "scale"},)),
    (("linke Rahmenkröpfung, kann nicht reinsehen",),
     ({"kind": "not-seen", "zone": "kick-up", "side": "left", "face": "interior"},)),
    (("mittlerer Querträger, alte Reparatur, klingt dumpf",),
     ({**FINDING, "zone": "gearbox-cross-member", "condition": "old-repair", "probe": "dull"},)),
    (("linkes Bodenblech, Loch zehn bis fünfzehn Zentimeter lang",),
     ({**FINDING, "zone": "floor-pan", "condition": "hole", "size_mm": 150},)),
    (("Kabinenlager Nummer zwei links, weich, 2,5 mm", "streich das"), ()),
    (("Bremsleitung rechts sauber", "am Schweller auf der Fahrerseite Rost"),
     ({"kind": "clear", "zone": "brake-line"}, {**FINDING, "zone": "sill", "condition": "surface-rust"})),
    (("ist das ein Loch?", "gib mir mal den Hammer, Kollege", "morgen früh machen wir Feierabend"), ()),
)  # fmt: skip


@pytest.mark.parametrize(("said", "wanted"), SPOKEN, ids=[said[0] for said, _ in SPOKEN])
def test_german_becomes_the_same_entries(
    said: tuple[str, ...],
    wanted: Wanted,
    tmp_path: Path,
    differences: Callable[[Mapping[str, Any], Mapping[str, Any]], dict[str, Any]],
) -> None:
    """Exactly the entries wanted come out, in order, remarks and withdrawn ones aside."""
    told = [entry for entry in entries(tmp_path, *said) if entry["kind"] != "remark"]
    assert [entry["kind"] for entry in told] == [entry["kind"] for entry in wanted]
    for want, entry in zip(wanted, told, strict=True):
        assert differences(want, entry) == {}


def test_the_command_line_takes_the_folder(run: Callable[..., Any]) -> None:
    """``--grammar`` is all it needs; map and rules are the shipped ones, names shown are German."""
    said = "linker Rahmenträger vorne, Loch fünfundzwanzig Millimeter"
    done = run("read", "--grammar", GERMAN, said, "--json")
    (entry,) = json.loads(done.stdout)["entries"]
    assert (entry["zone"], entry["size_mm"], entry["grade"]) == ("front-rail", 25.0, "repair")
    assert "rahmenträger vorn" in run("read", "--grammar", GERMAN, said).stdout


def test_a_log_in_german_is_read_by_its_own_copy(tmp_path: Path) -> None:
    """The log holds the whole grammar in force, shipped map and rules included."""
    no_settings = tmp_path / "settings.toml"
    no_settings.touch()
    flags = {"grammar": GERMAN, "into": tmp_path / "logs"}
    settings = load_settings(flags, user_file=no_settings, environ={})
    with open_reading(settings, keep=True) as session:
        session.read("rechter Schweller, Flugrost", at_s=0)
        told = session.inspection()
    (folder,) = settings.into.iterdir()
    opened = open_log(folder)
    assert opened.inspection == told
    assert opened.grammar.zone_map["sill"].title == "Schweller"


def test_german_names_every_place_and_condition_and_no_english_one() -> None:
    """Nothing of the map is left without a German name, and no English name is still understood."""
    grammar = load_grammar(folder=GERMAN, behind=grammar_dir())
    said = {(phrase.slot, phrase.value) for phrase in grammar.vocabulary.phrases}
    assert {("condition", name) for name in CONDITIONS} <= said
    assert {("zone", name) for name in grammar.zone_map.zones} <= said
    assert "rocker" not in {phrase.text for phrase in grammar.vocabulary.phrases}
