"""What is wrong with a grammar folder is told all at once, each with file, line, key and advice."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import load_grammar
from voicelog.errors import GrammarFault

Break = Callable[..., list[str]]


@pytest.fixture
def broken(cart: Path, monkeypatch: pytest.MonkeyPatch) -> Break:
    """Replace texts in a file of the folder and give back the faults that loading tells."""
    monkeypatch.chdir(cart)

    def faults(file: str, *pairs: tuple[str, str], overlays: tuple[Path, ...] = ()) -> list[str]:
        text = (cart / file).read_text(encoding="utf-8")
        for old, new in pairs:
            assert old in text
            text = text.replace(old, new, 1)
        (cart / file).write_text(text, encoding="utf-8")
        with pytest.raises(GrammarFault) as caught:
            load_grammar("cart", folder=cart, overlays=overlays)
        return list(caught.value.faults)

    return faults


WORDS, MAP, RULES = "words/a.toml", "maps/cart.toml", "rules/frame.toml"


@pytest.mark.parametrize(
    ("file", "old", "new", "fault"),
    [
        (WORDS, "misheard", "misherd", "7: meaning.misherd: unknown key (did you mean 'misheard'?)"),
        (WORDS, "[[meaning]]", "[[meanin]]", "3: meanin: unknown key (did you mean 'meaning'?)"),
        (WORDS, '"probe"', '"prob"', "10: meaning.slot: 'prob' is not a slot or word class (did you mean 'probe'?)"),
        (WORDS, 'value = "scale"', 'value = "scal"', "5: meaning.value: 'scal' is not a condition (did you mean 'scale'?)"),
        (WORDS, 'value = "firm"', 'value = "hollow"', "11: meaning.value: 'hollow' is not a probe (one of: firm, dull, dents, moves, soft, through)"),
        (WORDS, 'value = "tentative"', 'value = "tentativ"', "20: meaning.value: 'tentativ' is not a value of hedge (did you mean 'tentative'?)"),
        (WORDS, 'slot = "probe"\nvalue = "firm"', 'slot = "act"\nvalue = "stnd-by"', "11: meaning.value: 'stnd-by' is not a value of act (did you mean 'stand-by'?)"),
        (WORDS, 'slot = "probe"\nvalue = "firm"', 'slot = "label"\nvalue = "depth"', "11: meaning.value: 'depth' is not a value of label (did you mean 'depth_mm'?)"),
        (WORDS, 'slot = "probe"\nvalue = "firm"', 'slot = "unit"\nvalue = "furlong"', "11: meaning.value: 'furlong' is not a value of unit (one of: millimetre, centimetre, metre, micron, inch, foot, thou, percent, gauge)"),
        (WORDS, 'slot = "probe"\nvalue = "firm"', 'slot = "number"\nvalue = "three"', "11: meaning.value: 'three' is not a whole number, or a fraction such as 3/4"),
        (WORDS, 'slot = "probe"\nvalue = "firm"', 'slot = "tag"\nvalue = "Salt!"', "11: meaning.value: 'Salt!' is not small letters and single hyphens"),
        (WORDS, 'method = "tapped"', 'rot = "holle"', "16: meaning.also.rot: 'holle' is not a value of rot (did you mean 'hole'?)"),
        (WORDS, 'method = "tapped"', 'methd = "tapped"', "16: meaning.also.methd: 'methd' is not a slot or word class (did you mean 'method'?)"),
        (WORDS, 'method = "tapped"', 'method = "taped"', "16: meaning.also.method: 'taped' is not a method (did you mean 'tapped'?)"),
        (WORDS, 'value = "firm"\n', "", "9: meaning.value: is missing"),
        (WORDS, 'say = ["might be"]', 'say = "might be"', "21: meaning.say: must be a list in square brackets, not 'might be'"),
        (WORDS, 'say = ["might be"]', "say = []", "21: meaning.say: has too few values: at least 1"),
        (WORDS, '"rings true"', "5", "12: meaning.say: must be text in quotes, not 5"),
        (WORDS, '"rings true"', '"rings * true"', "14: meaning.say: 'rings * true' has *, which nobody can say: write the words"),
        (WORDS, '"rings true"', '" "', "14: meaning.say: an empty phrase"),
        (WORDS, '"rings true"', '"it rings as true as any bell could ring"', "14: meaning.say: 'it rings as true as any bell could ring' has 9 words; a phrase has at most 8"),
        (WORDS, '"rings true"', '"Flaking-metal"', "14: meaning.say: 'flaking-metal' (probe firm) is already said for condition scale at words/a.toml:6"),
        (WORDS, '"rings true"', '"rings"', "14: meaning.say: 'rings' (probe firm) is already said for probe firm at words/a.toml:13"),
        (MAP, '"shaft"', '"scale"', "9: zone.say: 'scale' (zone left-shaft) is already said for condition scale at words/a.toml:6"),
        (MAP, '"member"', '"shaft"', "24: family.say: 'shaft' (family left-shaft+axle-block) is already said for zone left-shaft at maps/cart.toml:9"),
        (MAP, 'id = "cart"', 'id = "kart"', "1: id: must be the file's name, 'cart'"),
        (MAP, 'role = "critical"', 'role = "crticial"', "15: zone.role: 'crticial' is not a role (did you mean 'critical'?)"),
        (MAP, "[40, 70, 20, 10]", "[40, 70, 20]", "21: zone.plan: has too few values: at least 4"),
        (MAP, "[40, 70, 20, 10]", "[40, 70, 20, 40]", "21: zone.plan: the box must lie within 0 to 100 and have an area"),
        (MAP, "nominal_mm = 4", "nominal_mm = -4", "18: zone.nominal_mm: must be more than 0, not -4"),
        (MAP, "nominal_mm = 4", "nominal_mm = nan", "18: zone.nominal_mm: must be a finite number, not nan"),
        (MAP, 'rear = "axle-block"', 'reer = "axle-block"', "27: family.ends.reer: 'reer' is not a spoken end (did you mean 'rear'?)"),
        (RULES, 'grade = "treat"\n', "", "22: rule: must have exactly one of grade, at_least, worsen"),
        (RULES, 'grade = "treat"', 'grade = "treat"\nworsen = 1', "22: rule: must have exactly one of grade, at_least, worsen"),
        (RULES, '"loss_percent" }', '"los_percent" }', "11: rule.when.loss_at_least: 'los_percent' is not a name under [limits] (did you mean 'loss_percent'?)"),
        (RULES, "probe = [", "prob = [", "18: rule.when.prob: unknown key (did you mean 'probe'?)"),
        (RULES, 'id = "soft"', 'id = "thin"', "15: rule.id: a rule 'thin' is already there"),
        (RULES, 'unproven = "yes"', 'unproven = "maybe"', "27: rule.unproven: must be 'yes', 'no' or 'unless-firm', not 'maybe'"),
        (RULES, 'grade = "treat"', 'when = { side = ["left"] }\ngrade = "treat"', "26: rule.when: the last rule with a grade must have an empty when"),
        (RULES, 'when = { condition = ["thinning"], loss_at_least = "loss_percent" }\n', "", "7: rule: fits everything, so no rule with a grade below is ever tried"),
    ],
)  # fmt: skip
def test_a_fault_is_told_with_file_line_key_and_advice(
    broken: Break, file: str, old: str, new: str, fault: str
) -> None:
    """One change in a sound folder, and the fault that it makes is among those told."""
    assert f"{file}:{fault}" in broken(file, (old, new))


def test_a_zone_twice_and_a_family_of_unknown_zones(broken: Break) -> None:
    """Faults between tables of a map are told together."""
    assert broken(
        MAP, ('id = "axle-block"', 'id = "left-shaft"'), ('zones = ["left-shaft"', 'zones = ["shaft"')
    ) == [
        "maps/cart.toml:13: zone.id: a zone 'left-shaft' is already there",
        "maps/cart.toml:26: family.zones: 'shaft' is not a zone of this map (did you mean 'left-shaft'?)",
        "maps/cart.toml:26: family.zones: 'axle-block' is not a zone of this map (one of: left-shaft)",
        "maps/cart.toml:27: family.ends.front: 'left-shaft' is not a zone of this family (did you mean 'shaft'?)",
    ]  # fmt: skip


def test_all_faults_of_all_files_come_at_once_and_in_order(broken: Break, cart: Path) -> None:
    """A faulty table does not hide what is wrong elsewhere, nor shift the lines told for it."""
    (cart / RULES).write_text((cart / RULES).read_text().replace('"repair"', '"fix"', 1))
    (cart / MAP).write_text((cart / MAP).read_text().replace('"axle block"', '"might be"', 1))
    found = broken(WORDS, ("misheard", "misherd"), ('"tapped"', '"taped"'), ('"might be"', '"no*"'))
    assert [fault.split(": ")[0] for fault in found] == [
        "rules/frame.toml:12",
        "words/a.toml:7",
        "words/a.toml:16",
        "words/a.toml:21",
    ]


def test_a_faulty_zone_is_still_known_to_its_family(broken: Break) -> None:
    """A wrong key in a zone makes one fault, not a second one for the family that names it."""
    assert len(broken(MAP, ('layout = "one"', 'layot = "one"'))) == 2  # unknown, and missing


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ('say = ["scale"', 'say = ["scale', "words/a.toml:6: column"),
        ("[[meaning]]", "[[meaning]", "words/a.toml:3: column"),
        ('also = { method = "tapped" }', "also = {", "words/a.toml:16: column"),
        ('say = ["might be"]\n', "say = [", "words/a.toml:21: not valid TOML"),
        ('value = "firm"', 'value = "firm"\nvalue = "dull"', "words/a.toml:12: column"),
    ],
)
def test_broken_toml_is_told_with_line_and_column(
    broken: Break, old: str, new: str, where: str
) -> None:
    """The parser's message, its position in front; nothing else of that file is complained of."""
    (fault,) = broken(WORDS, (old, new))
    assert fault.startswith(where)
    assert "not valid TOML: " in fault


def test_a_broken_map_makes_no_further_faults(broken: Break) -> None:
    """What cannot be read is one fault: its zones are not called unknown elsewhere."""
    (fault,) = broken(MAP, ("[[zone]]", "[[zone"))
    assert fault.startswith("maps/cart.toml:4: column ")


def test_text_that_is_not_utf8_is_told_with_its_line(cart: Path) -> None:
    """Latin-1 saved by an old editor is named, not decoded into nonsense."""
    (cart / WORDS).write_bytes(b'[[meaning]]\nslot = "side"\nsay = ["caf\xe9"]\n')
    with pytest.raises(GrammarFault) as caught:
        load_grammar("cart", folder=cart)
    assert str(caught.value).endswith("words/a.toml:3: is not UTF-8 text")


def test_a_missing_rules_file_is_one_clear_fault(cart: Path) -> None:
    """No second fault about the rules that could not be read."""
    (cart / RULES).unlink()
    with pytest.raises(GrammarFault) as caught:
        load_grammar("cart", folder=cart)
    (fault,) = caught.value.faults
    assert fault.endswith("rules/frame.toml:1: cannot be read: No such file or directory")


def test_an_empty_rules_file_says_what_it_lacks(broken: Break, cart: Path) -> None:
    """Nothing in the table is a fault, since findings would have no grade."""
    (cart / RULES).write_text("")
    assert broken(WORDS) == [
        "rules/frame.toml:1: id: is missing",
        "rules/frame.toml:1: rule: there is no base rule: one with a grade and an empty when must come last",
    ]  # fmt: skip


def test_the_message_counts_and_points_to_the_reference(cart: Path) -> None:
    """Exit code, count, hint and faults, as a person sees them."""
    (cart / WORDS).write_text("x = 1\ny = 2\n")
    with pytest.raises(GrammarFault) as caught:
        load_grammar("cart", folder=cart)
    lines = str(caught.value).splitlines()
    assert lines[0].startswith("2 faults in the grammar. ")
    assert "shared/GRAMMAR.md" in lines[0]
    assert caught.value.exit_code == 4
    assert len(lines) == 3


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data())
def test_no_damage_to_a_file_makes_anything_but_a_fault(cart: Path, data: st.DataObject) -> None:
    """A few bytes cut out or put in anywhere: it loads, or it is told; it never crashes."""
    file = data.draw(st.sampled_from([WORDS, MAP, RULES]))
    sound = (cart / file).read_bytes()
    start = data.draw(st.integers(0, len(sound)))
    cut = data.draw(st.integers(0, 40))
    put = data.draw(st.sampled_from([b"", b"]", b'"', b"[[zone]]\n", b"1", b"x = {}\n", b"\xff"]))
    (cart / file).write_bytes(sound[:start] + put + sound[start + cut :])
    faults: tuple[str, ...] | None = None
    try:
        load_grammar("cart", folder=cart)
    except GrammarFault as fault:
        faults = fault.faults
    finally:
        (cart / file).write_bytes(sound)
    assert faults != ()
