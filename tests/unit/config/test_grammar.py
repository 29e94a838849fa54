"""Loading a grammar folder: what comes out of it, and that copies of it load the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.grade import Grade, Rule
from voicelog.domain.reading import Phrase
from voicelog.domain.zone import Cavity, Family, Layout, Role, Zone
from voicelog.errors import UsageFault


def written_out(grammar: Grammar, root: Path) -> Path:
    """A grammar's files as a log keeps them."""
    for name, raw in grammar.files.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_bytes(raw)
    return root


def test_phrases_come_from_words_zones_and_families(cart: Path) -> None:
    """Each with its slot and value; mishearings are understood but not offered as hints."""
    vocabulary = load_grammar("cart", folder=cart).vocabulary
    assert vocabulary.phrases == (
        Phrase("scale", "condition", "scale"),
        Phrase("flaking metal", "condition", "scale"),
        Phrase("skale", "condition", "scale", misheard=True),
        Phrase("rings", "probe", "firm", {"method": "tapped"}),
        Phrase("rings true", "probe", "firm", {"method": "tapped"}),
        Phrase("might be", "hedge", "tentative"),
        Phrase("shaft", "zone", "left-shaft"),
        Phrase("axle block", "zone", "axle-block"),
        Phrase("member", "family", "left-shaft+axle-block"),
        Phrase("remember", "family", "left-shaft+axle-block", misheard=True),
    )
    assert "skale" not in vocabulary.spoken()


def test_the_map_is_built_as_written(cart: Path) -> None:
    """Every key of a zone and a family arrives in the domain's own types."""
    zone_map = load_grammar("cart", folder=cart).zone_map
    assert (zone_map.id, zone_map.title) == ("cart", "Hand cart")
    assert list(zone_map.zones) == ["left-shaft", "axle-block"]
    assert zone_map["axle-block"] == Zone(
        "axle-block",
        "Axle block",
        Role.CRITICAL,
        Layout.ONE,
        Cavity.ALWAYS,
        4.0,
        ("probe", "photo"),
        ("axle block",),
        (40.0, 70.0, 20.0, 10.0),
    )
    assert zone_map.families == (
        Family(
            ("member",),
            ("left-shaft", "axle-block"),
            {"front": "left-shaft", "rear": "axle-block"},
        ),
    )


def test_the_rules_are_built_as_written(cart: Path) -> None:
    """In their order, limits by name, and keys of ``when`` that were not written left out."""
    rules = load_grammar("cart", folder=cart).rules
    assert rules.limits == {"loss_percent": 25}
    assert rules.cautions == ("Chock the wheel.",)
    assert [rule.id for rule in rules.rules] == ["thin", "soft", "anything-else"]
    thin, soft, last = rules.rules
    assert thin.when == {"condition": ("thinning",), "loss_at_least": "loss_percent"}
    assert (soft.at_least, soft.grade, soft.caution) == (Grade.REPAIR, None, "Mind your fingers.")
    assert last == Rule(
        "anything-else",
        "Anything else is treated.",
        "common practice, no source",
        grade=Grade.TREAT,
        unproven="yes",
    )


def test_phrases_are_tidied(cart: Path) -> None:
    """Capitals, runs of spaces and the typographic apostrophe make no difference."""
    path = cart / "words" / "a.toml"
    path.write_text(path.read_text().replace('"might be"', '"I\u2019d  Say"'), encoding="utf-8")
    texts = [phrase.text for phrase in load_grammar("cart", folder=cart).vocabulary.phrases]
    assert "i'd say" in texts


def test_files_hold_the_bytes_in_force_and_only_the_map_used(cart: Path) -> None:
    """What a log copies is what was read, byte for byte, without the maps that were not used."""
    (cart / "maps" / "other.toml").write_text("not even TOML")
    files = load_grammar("cart", folder=cart).files
    assert list(files) == ["words/a.toml", "maps/cart.toml", "rules/frame.toml"]
    assert files["maps/cart.toml"] == (cart / "maps" / "cart.toml").read_bytes()


def test_a_copy_loads_the_same_overlays_and_outside_map_included(
    cart: Path, tmp_path: Path
) -> None:
    """A log's own grammar folder gives the grammar that was in force, and copies itself."""
    outside = tmp_path / "barrow.toml"
    outside.write_text((cart / "maps" / "cart.toml").read_text().replace('"cart"', '"barrow"'))
    overlays = []
    for name, say in (("z", "crust"), ("a", "flakes")):
        overlays.append(tmp_path / f"{name}.toml")
        overlays[-1].write_text(
            f'[[meaning]]\nslot = "condition"\nvalue = "scale"\nsay = ["{say}"]\n'
        )
    first = load_grammar(str(outside), folder=cart, overlays=overlays)
    second = load_grammar("barrow", folder=written_out(first, tmp_path / "log"))
    assert list(first.files)[-2:] == ["overlays/001-z.toml", "overlays/002-a.toml"]
    assert second == first


def test_windows_line_ends_and_a_byte_order_mark_do_no_harm(cart: Path) -> None:
    """Files saved by a plain Windows editor load like the others."""
    before = load_grammar("cart", folder=cart).vocabulary
    path = cart / "words" / "a.toml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert load_grammar("cart", folder=cart).vocabulary == before


def test_an_unknown_map_names_the_nearest_and_all(cart: Path) -> None:
    """The person sees what there is, and what they probably meant."""
    with pytest.raises(UsageFault, match=r"no map 'crat' \(did you mean 'cart'\?\)") as caught:
        load_grammar("crat", folder=cart)
    assert caught.value.hint == "Maps available: cart; or give the path of a .toml file"


def test_a_map_file_that_is_not_there_is_told(cart: Path) -> None:
    """A path is not looked up among the shipped maps."""
    with pytest.raises(UsageFault, match=r"no map file '/nowhere/van.toml'"):
        load_grammar("/nowhere/van.toml", folder=cart)
