"""What stands on the page of spoken words can be said, and means what it stands beside."""

from __future__ import annotations

import tomllib

import pytest

from voicelog.cli.topics import GUIDE
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.slot import CONDITIONS, METHODS, PROBES
from voicelog.domain.words_page import Section, WordsPage
from voicelog.runtime.opening import open_reading
from voicelog.runtime.words_page import DOES, VEHICLE, differing, words_page

MAPS = ("ladder-frame", "unibody", "backbone")


@pytest.fixture(scope="module", params=MAPS)
def grammar(request: pytest.FixtureRequest) -> Grammar:
    """Each map that ships."""
    return load_grammar(request.param)


def section(page: WordsPage, title: str) -> Section:
    """One section of it."""
    (found,) = (one for one in page.sections if one.title == title)
    return found


def said_for(grammar: Grammar, slot: str, value: str) -> set[str]:
    """All that may be said for a meaning."""
    phrases = grammar.vocabulary.phrases
    return {p.text for p in phrases if (p.slot, p.value) == (slot, value) and not p.misheard}


def test_every_place_is_there_by_what_it_is_called(grammar: Grammar) -> None:
    """Its name and its other names are spoken ones of that very place, none of them told twice."""
    rows = section(words_page(grammar), "Places").rows
    for row, zone in zip(rows, grammar.zone_map.zones.values(), strict=True):
        ways = {row.name, *row.ways}
        assert ways <= said_for(grammar, "zone", zone.id), zone.id
        assert len(ways) == 1 + len(row.ways)


@pytest.mark.parametrize(
    ("title", "slot", "values"),
    [
        ("What is there", "condition", CONDITIONS),
        ("What the metal did", "probe", PROBES),
        ("How it was tested", "method", METHODS),
    ],
)
def test_every_fault_and_test_is_there(
    title: str, slot: str, values: tuple[str, ...], grammar: Grammar
) -> None:
    """One row a value, each way of it a phrase of that value."""
    rows = section(words_page(grammar), title).rows
    for row, value in zip(rows, values, strict=True):
        assert {row.name, *row.ways} <= said_for(grammar, slot, value), value


def test_every_procedure_word_is_there(grammar: Grammar) -> None:
    """Each act that has words, with what it does; "logbook" stands above them."""
    part = section(words_page(grammar), "Procedure words")
    assert [row.ways for row in part.rows] == [(does,) for does in DOES.values()]
    assert "logbook" in part.note


def test_ways_chosen_by_hand_are_phrases_of_their_meaning() -> None:
    """A way that the vocabulary lost would vanish from the page without a word."""
    chosen = tomllib.loads((GUIDE / "spoken-words.toml").read_text(encoding="utf-8"))
    shipped = load_grammar()
    for slot, values in chosen.items():
        for value, ways in values.items():
            assert set(ways) <= said_for(shipped, slot, value), (slot, value)


@pytest.mark.parametrize("name", MAPS)
def test_whole_sentences_are_understood(name: str) -> None:
    """Each of them becomes an entry at its place, without a doubt, with that map."""
    rows = section(words_page(load_grammar(name)), "Whole sentences").rows
    assert len(rows) == 4
    with open_reading(Settings(map=name), keep=False) as session:
        for at_s, row in enumerate(rows):
            event = session.read(row.name, at_s=at_s * 100.0)
            assert event.findings, row.name
            assert all("zone" in f.entry.slots and not f.entry.doubtful for f in event.findings)


def test_what_is_said_of_the_vehicle_is_taken_for_that() -> None:
    """Odometer, lift, dirt, refusal: each leaves a slot or a tag."""
    said = [f"{row.name} {way}" if row.name == "odometer" else row.name for row in VEHICLE[:-1]
            for way in row.ways or ("",)]  # fmt: skip
    with open_reading(Settings(), keep=False) as session:
        for at_s, sentence in enumerate(said):
            (finding,) = session.read(sentence, at_s=float(at_s)).findings
            assert finding.entry.tags or "odometer" in finding.entry.slots, sentence


def test_another_language_has_no_english_on_it() -> None:
    """No English sentences; its own words for faults and procedure words."""
    from voicelog.config.data import languages

    page = words_page(
        load_grammar(folder=languages()["de"], behind=languages()["de"].parent), english=False
    )
    titles = [one.title for one in page.sections]
    assert "Whole sentences" not in titles
    assert "Numbers" not in titles
    assert section(page, "What is there").rows


def test_ways_that_tell_nothing_new_are_passed_over() -> None:
    """No word of the name, none of another way; short ones first."""
    texts = ("sill", "outer sill", "rocker panel", "rocker", "below the doors of it", "threshold")
    assert differing(texts, "sill", 3) == ("rocker panel", "threshold", "below the doors of it")
