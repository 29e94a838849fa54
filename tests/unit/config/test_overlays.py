"""A shop's own files on top of a grammar: what they add, replace, and may not do."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.reading import Phrase
from voicelog.errors import GrammarFault


def laid_over(cart: Path, *texts: str) -> Grammar:
    """The cart's grammar with overlays of these texts on top."""
    paths = []
    for number, text in enumerate(texts):
        paths.append(cart.parent / f"shop{number}.toml")
        paths[-1].write_text(text)
    return load_grammar("cart", folder=cart, overlays=paths)


def faults_of(cart: Path, *texts: str) -> list[str]:
    """What is told when the overlays are wrong, without the folder they lie in."""
    with pytest.raises(GrammarFault) as caught:
        laid_over(cart, *texts)
    return [fault.replace(f"{cart.parent}/", "") for fault in caught.value.faults]


CRUST = '[[meaning]]\nslot = "condition"\nvalue = "scale"\nsay = ["crust"]\n'


def test_lists_append(cart: Path) -> None:
    """New phrases of words, zones and families come after the shipped ones."""
    zone = '[[zone]]\nid = "left-shaft"\nsay = ["pole"]\nmisheard = ["poll"]\n'
    family = '[[family]]\nsay = ["timber"]\nzones = ["left-shaft", "axle-block"]\n'
    grammar = laid_over(cart, CRUST + zone, family)
    assert grammar.vocabulary.phrases[-4:] == (
        Phrase("crust", "condition", "scale"),
        Phrase("pole", "zone", "left-shaft"),
        Phrase("poll", "zone", "left-shaft", misheard=True),
        Phrase("timber", "family", "left-shaft+axle-block"),
    )
    assert grammar.zone_map["left-shaft"].say == ("shaft", "pole")
    assert [family.say for family in grammar.zone_map.families] == [("member", "timber")]


def test_a_family_keeps_its_ends_when_an_overlay_only_adds_a_name(cart: Path) -> None:
    """The shipped ends still settle which place is meant."""
    family = '[[family]]\nsay = ["timber"]\nzones = ["left-shaft", "axle-block"]\n'
    (only,) = laid_over(cart, family).zone_map.families
    assert only.ends == {"front": "left-shaft", "rear": "axle-block"}


def test_single_values_replace_the_last_overlay_winning(cart: Path) -> None:
    """A title, a thickness and a limit are the shop's own; what is not said stays."""
    first = '[[zone]]\nid = "axle-block"\nnominal_mm = 5\n[limits]\nloss_percent = 20\n'
    second = '[[zone]]\nid = "axle-block"\ntitle = "Block"\n[limits]\nloss_percent = 15\n'
    grammar = laid_over(cart, first, second)
    zone = grammar.zone_map["axle-block"]
    assert (zone.title, zone.nominal_mm) == ("Block", 5.0)
    assert grammar.rules.limits == {"loss_percent": 15}


def test_a_shipped_phrase_may_be_repeated_with_its_meaning(cart: Path) -> None:
    """A shop that wrote a phrase before it was shipped is not stopped by an upgrade."""
    phrases = laid_over(cart, CRUST.replace("crust", "scale")).vocabulary.phrases
    assert [phrase.value for phrase in phrases if phrase.text == "scale"] == ["scale"]


RINGS = '[[meaning]]\nslot = "hedge"\nvalue = "tentative"\nsay = ["rings true"]\n'


def test_another_meaning_for_a_shipped_phrase_is_a_fault_that_names_the_way_out(
    cart: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing changes its meaning silently; both places are named."""
    monkeypatch.chdir(cart)
    assert faults_of(cart, RINGS) == [
        "shop0.toml:4: meaning.say: 'rings true' (hedge tentative) is already said for "
        "probe firm at words/a.toml:14; write replace = true to take it over"
    ]


def test_replace_takes_a_phrase_over(cart: Path) -> None:
    """The shop's meaning holds, and the shipped one is gone for this phrase only."""
    phrases = laid_over(cart, RINGS + "replace = true\n").vocabulary.phrases
    found = {phrase.text: phrase.slot for phrase in phrases}
    assert (found["rings true"], found["rings"]) == ("hedge", "probe")


def test_a_zone_name_taken_over_leaves_its_old_zone(cart: Path) -> None:
    """The map's own list of names follows the vocabulary."""
    text = '[[zone]]\nid = "axle-block"\nsay = ["shaft"]\nreplace = true\n'
    zone_map = laid_over(cart, text).zone_map
    assert zone_map["left-shaft"].say == ()
    assert set(zone_map["axle-block"].say) == {"axle block", "shaft"}


def test_what_an_overlay_gets_wrong_is_told_all_at_once(cart: Path) -> None:
    """Unknown keys, zones, limits and values, of several overlays, each at its line."""
    first = '[[zone]]\nid = "left-shft"\nsay = ["pole"]\n\n[limits]\nlos_percent = 1\n'
    second = CRUST.replace('"scale"', '"scal"') + 'colour = "red"\n\n[[zone]]\nrole = "panel"\n'
    assert faults_of(cart, first, second) == [
        "shop0.toml:2: zone.id: 'left-shft' is not a zone of this map (did you mean 'left-shaft'?)",
        "shop0.toml:6: limits.los_percent: 'los_percent' is not a limit of the severity table"
        " (did you mean 'loss_percent'?)",
        "shop1.toml:5: meaning.colour: unknown key",
        "shop1.toml:7: zone.id: is missing",
        "shop1.toml:8: zone.role: unknown key",
    ]


def test_an_overlay_that_is_not_there_is_told(cart: Path) -> None:
    """A path that a setting names wrongly is a fault, not an empty overlay."""
    with pytest.raises(GrammarFault, match="cannot be read: No such file or directory"):
        load_grammar("cart", folder=cart, overlays=[Path("/nowhere/shop.toml")])
