"""Places that a map takes over from another one."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.zone import Layout
from voicelog.errors import GrammarFault, UsageFault

SLEDGE = """\
id = "sledge"
title = "Sledge"

[[zone]]
id = "axle-block"
as_in = "cart"
title = "Runner block"
say = ["runner block"]
carries = "the runner"

[[zone]]
id = "left-shaft"
as_in = "cart"

[[zone]]
id = "seat"
title = "Seat"
role = "panel"
layout = "one"
say = ["seat", "Axle-block"]
plan = [70, 70, 5, 5]

[[family]]
as_in = "cart"
zones = ["left-shaft", "axle-block"]
say = ["part"]
"""


@pytest.fixture
def sledge(cart: Path) -> Path:
    """The grammar of the cart with a second map that takes places over from it."""
    (cart / "maps" / "sledge.toml").write_text(SLEDGE)
    return cart


def meanings(grammar: Grammar) -> dict[str, str]:
    """What the phrases of places mean."""
    places = (p for p in grammar.vocabulary.phrases if p.slot in ("zone", "family"))
    return {phrase.text: phrase.value for phrase in places}


def changed(folder: Path, old: str, new: str) -> Path:
    """The same with one thing of the sledge's map written otherwise."""
    path = folder / "maps" / "sledge.toml"
    assert old in path.read_text()
    path.write_text(path.read_text().replace(old, new))
    return folder


def test_a_place_has_the_other_maps_keys_where_none_is_written(sledge: Path) -> None:
    """What is written here counts; the rest is as it is there."""
    block = load_grammar("sledge", folder=sledge).zone_map["axle-block"]
    assert (block.title, block.carries) == ("Runner block", "the runner")
    assert (block.nominal_mm, block.layout, block.evidence) == (4, Layout.ONE, ("probe", "photo"))


def test_names_are_added_and_none_means_two_places(sledge: Path) -> None:
    """The map's own names go before those taken over, however they are spelt."""
    assert meanings(load_grammar("sledge", folder=sledge)) == {
        "runner block": "axle-block",
        "shaft": "left-shaft",
        "seat": "seat",
        "axle-block": "seat",
        "part": "left-shaft+axle-block",
        "member": "left-shaft+axle-block",
        "remember": "left-shaft+axle-block",
    }


def test_a_shared_name_stays_shared(sledge: Path) -> None:
    """Its family is taken over before the places are, with the spoken ends."""
    (family,) = load_grammar("sledge", folder=sledge).zone_map.families
    assert family.say == ("part", "member")
    assert family.ends == {"front": "left-shaft", "rear": "axle-block"}


def test_the_files_of_such_a_grammar_are_whole(sledge: Path, tmp_path: Path) -> None:
    """A log that holds just these loads the same grammar again, with no other map at hand."""
    grammar = load_grammar("sledge", folder=sledge)
    assert [n for n in grammar.files if n.startswith("maps/")] == [
        "maps/sledge.toml",
        "maps/cart.toml",
    ]
    for name, raw in grammar.files.items():
        (tmp_path / "log" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "log" / name).write_bytes(raw)
    again = load_grammar("sledge", folder=tmp_path / "log")
    assert again.zone_map == grammar.zone_map
    assert again.vocabulary == grammar.vocabulary


def test_a_map_of_ones_own_takes_over_shipped_places(tmp_path: Path) -> None:
    """A file that lies elsewhere: the other map is looked for where the words come from."""
    own = tmp_path / "van.toml"
    own.write_text(
        'id = "van"\ntitle = "Van"\n'
        '[[zone]]\nid = "sill"\nas_in = "unibody"\ncavity = "never"\nevidence = []\n'
        '[[zone]]\nid = "tunnel"\nas_in = "unibody"\n'
    )
    with pytest.raises(GrammarFault, match=r"van\.toml:5: .*'unibody' has no such zone"):
        load_grammar(str(own))
    own.write_text(own.read_text().replace('"unibody"\ncavity', '"ladder-frame"\ncavity'))
    assert set(load_grammar(str(own)).zone_map.zones) == {"sill", "tunnel"}


def test_a_map_that_is_not_there_is_named(sledge: Path) -> None:
    """With the nearest name, as for the map in force."""
    changed(sledge, '"axle-block"\nas_in = "cart"', '"axle-block"\nas_in = "crat"')
    with pytest.raises(UsageFault, match=r"no map 'crat' \(did you mean 'cart'\?\)"):
        load_grammar("sledge", folder=sledge)


def test_a_place_that_the_other_map_has_not_is_a_fault_at_its_line(sledge: Path) -> None:
    """So is one that the other map has from a third: there is one step, not a chain."""
    changed(sledge, 'id = "left-shaft"', 'id = "right-shaft"')
    with pytest.raises(GrammarFault, match=r"sledge\.toml:13: zone\.as_in: the map 'cart' has no"):
        load_grammar("sledge", folder=sledge)


def test_a_fault_in_what_is_taken_over_is_told_at_the_place(sledge: Path) -> None:
    """The other map is not checked for itself; what comes from it is."""
    path = sledge / "maps" / "cart.toml"
    path.write_text(path.read_text().replace('role = "load-path"', 'role = "shaft"'))
    with pytest.raises(GrammarFault, match=r"sledge\.toml:\d+: zone\.role: 'shaft' is not a role"):
        load_grammar("sledge", folder=sledge)


def test_a_broken_other_map_is_told(sledge: Path) -> None:
    """As any file that is not TOML."""
    (sledge / "maps" / "cart.toml").write_text("id = \n")
    with pytest.raises(GrammarFault, match=r"cart\.toml:1: column"):
        load_grammar("sledge", folder=sledge)
