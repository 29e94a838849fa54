"""The sentences of a recording sheet: drawn from the words in force, and labelled without reading them."""

from __future__ import annotations

import ast
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.interpret.reader import Reader
from voicelog.runtime import sheet_sentences
from voicelog.runtime.inspected import Inspected
from voicelog.runtime.sheet_parts import parts_of
from voicelog.runtime.sheet_sentences import MIX, draw_sheet
from voicelog.yardstick.sheet import Item
from voicelog.yardstick.strict import judge

ROOT = Path(__file__).parents[3]
MAPS = ("ladder-frame", "unibody", "backbone")


@cache
def grammar_of(name: str) -> Grammar:
    """A shipped map with the shipped words."""
    return load_grammar(name)


@cache
def drawn() -> tuple[Item, ...]:
    """The sentences of one long sheet."""
    return draw_sheet(grammar_of("ladder-frame"), count=200, seed=1).items


def of_kind(kind: str) -> list[Item]:
    """Every sentence of a kind."""
    return [item for item in drawn() if item.kind == kind]


def test_the_same_seed_gives_the_same_sheet() -> None:
    """So that figures of two shops can be compared; another seed gives other sentences."""
    grammar = grammar_of("ladder-frame")
    one = draw_sheet(grammar, seed=3)
    assert one == draw_sheet(grammar, seed=3)
    assert {i.text for i in one.items} != {i.text for i in draw_sheet(grammar, seed=4).items}


@pytest.mark.parametrize("count", [5, 40, 120])
def test_there_are_as_many_as_are_asked_for(count: int) -> None:
    """Each under a number of its own, the kinds in the mix's shares."""
    items = draw_sheet(grammar_of("ladder-frame"), count=count).items
    assert len({item.id for item in items}) == len(items) == count
    kinds = Counter(item.kind for item in items)
    if count % sum(MIX.values()) == 0:
        assert kinds == {kind: share * count // 40 for kind, share in MIX.items()}


def test_nothing_that_makes_a_sheet_can_read() -> None:
    """A label that the reader gave would always be right."""
    for name in ("sheet_parts", "sheet_sentences", "sheet_talk", "sheet_files", "sheet_page"):
        tree = ast.parse((ROOT / "voicelog" / "runtime" / f"{name}.py").read_text("utf-8"))
        modules = [n.module or "" for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)]
        assert not [m for m in modules if "interpret" in m or "understanding" in m], name


@pytest.mark.parametrize("name", MAPS)
def test_every_part_is_a_phrase_of_the_words_in_force(name: str) -> None:
    """With what the files say that it settles."""
    grammar = grammar_of(name)
    phrases = {(p.slot, p.value, p.text) for p in grammar.vocabulary.phrases if not p.misheard}
    parts = parts_of(grammar)
    assert set(parts.places) == set(grammar.zone_map.zones)
    for slot, listed in (("condition", parts.faults), ("probe", parts.probes)):
        assert all(listed.values())
        for value, ways in listed.items():
            assert {(slot, value, way.text) for way in ways} <= phrases


@pytest.mark.parametrize("name", MAPS)
def test_labels_agree_with_the_reading_of_the_very_words(name: str) -> None:
    """Nearly always: else the labels or the reading are wrong somewhere. Talk may fool the reading."""
    grammar, settings = grammar_of(name), Settings()
    reader = Reader(grammar.vocabulary, grammar.zone_map, speech=settings.speech)
    wrong = []
    for item in draw_sheet(grammar, count=80, seed=1).items:
        inspected = Inspected(settings, grammar, reader)
        for number, said in enumerate(item.say):
            inspected.take(Heard.typed(said), 3.0 * number)
        if not item.is_talk and not judge(item.want, inspected.answer).exact:
            wrong.append((item.say, item.want, inspected.answer))
    assert len(wrong) <= 1, wrong


def test_a_length_is_written_in_millimetres() -> None:
    """Beside a hole, a crack or a soft spot; a share is one of the surface."""
    inches = [item for item in of_kind("size") if "two inches" in item.text]
    assert inches
    assert {item.want[0]["size_mm"] for item in inches} == {50.8}
    shares = [item for item in of_kind("size") if "percent" in item.text]
    assert shares
    assert all("area_percent" in item.want[0] for item in shares)


def test_a_denied_fault_is_not_wanted() -> None:
    """Only the one that is there."""
    for item in of_kind("denied"):
        (want,) = item.want
        denied = item.text.split(", ")[1].removeprefix("no ")
        assert str(want["condition"]).replace("-", " ") != denied


def test_a_test_said_next_belongs_to_the_finding() -> None:
    """Two utterances, one entry."""
    for item in of_kind("late"):
        assert len(item.say) == 2
        (want,) = item.want
        assert {"zone", "condition", "probe"} <= want.keys()


def test_a_correction_replaces_what_it_names() -> None:
    """The other side with the same fault, or another fault."""
    turned = [item for item in of_kind("correction") if item.say[1].endswith("side")]
    assert turned
    for item in turned:
        said = item.say[0].split()[0]
        assert {said, item.want[0]["side"]} == {"left", "right"}


def test_what_is_withdrawn_and_what_is_talk_leaves_nothing() -> None:
    """No entry is wanted."""
    for kind in ("withdrawn", "talk"):
        found = of_kind(kind)
        assert found
        assert not [item for item in found if item.want]


def test_two_findings_in_a_breath_are_two_entries() -> None:
    """In the order in which they are said."""
    assert all(len(item.want) == 2 and len(item.say) == 1 for item in of_kind("two"))


def test_own_words_come_first(tmp_path: Path) -> None:
    """What a shop has added is what it wants to know about."""
    own = tmp_path / "shop.toml"
    own.write_text('[[meaning]]\nslot = "condition"\nvalue = "scale"\nsay = ["cornflakes"]\n')
    shipped = grammar_of("ladder-frame")
    known = frozenset(phrase.text for phrase in shipped.vocabulary.phrases)
    sheet = draw_sheet(load_grammar(overlays=(own,)), known=known)
    said = [item for item in sheet.items if "cornflakes" in item.text]
    assert said
    assert {item.want[0].get("condition") for item in said if len(item.want) == 1} <= {"scale"}


def test_another_language_has_its_own_words_and_no_talk() -> None:
    """Talk is English; numbers and places are the language's."""
    folder = ROOT / "grammar" / "de"
    german = load_grammar(folder=folder, behind=ROOT / "grammar")
    sheet = draw_sheet(german, english=False)
    assert len(sheet.items) == sheet_sentences.COUNT
    assert not [item for item in sheet.items if item.is_talk]
    sized = [item for item in sheet.items if item.kind == "size"]
    assert any("millimeter" in item.text or "prozent" in item.text for item in sized)
