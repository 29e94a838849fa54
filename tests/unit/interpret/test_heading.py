"""What is said of the vehicle as a whole, and all that must not be taken for it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Statement
from voicelog.interpret.reader import Reader
from voicelog.interpret.vehicle_words import VehicleWords

_CORPUS = Path(__file__).parents[2] / "corpus"


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped one."""
    return load_grammar()


@pytest.fixture(scope="module")
def reader(grammar: Grammar) -> Reader:
    """Reads as the program does."""
    return Reader(grammar.vocabulary, grammar.zone_map)


def _said(reader: Reader, text: str) -> tuple[Statement, ...]:
    return reader.read(Heard.typed(text)).statements


@pytest.mark.parametrize(
    ("text", "slots", "tags"),
    [
        ("odometer eighty two thousand four hundred miles", {"odometer": "82400 mi"}, "odometer"),
        ("Odometer reads 82,400 miles.", {"odometer": "82400 mi"}, "odometer"),
        ("odometer's 82,400", {"odometer": "82400"}, "odometer"),
        ("mileage is 131 thousand k", {"odometer": "131000 km"}, "odometer"),
        ("the clock shows one hundred and thirty one thousand", {"odometer": "131000"}, "odometer"),
        ("one three one four five two kilometres", {"odometer": "131452 km"}, "odometer"),
        ("it's got a hundred thousand miles on the clock", {"odometer": "100000 mi"}, "odometer"),
        ("kilometres", {"odometer": "km"}, "odometer"),
        ("it's on the lift", {}, "stood-lift"),
        ("vehicle is on a four post", {}, "stood-lift"),
        ("it's up on axle stands", {}, "stood-stands"),
        ("on the ramp", {}, "stood-ramp"),
        ("it's over the pit", {}, "stood-pit"),
        ("it's filthy", {}, "surface-dirty"),
        ("the whole truck is caked in mud", {}, "surface-dirty"),
        ("it's wet, covered in snow and ice", {}, "surface-wet surface-iced"),
        ("the vehicle's undersealed all over", {}, "surface-coated"),
        ("fully coated, been waxed", {}, "surface-coated"),
        ("owner won't let me scrape", {}, "refused-scraping"),
        ("no scraping allowed", {}, "refused-scraping"),
        ("not allowed to probe", {}, "refused-probing"),
        ("can't take the undertray off", {}, "refused-covers"),
        ("no lift today", {}, "refused-lifting"),
        ("no power washing allowed", {}, "refused-cleaning"),
        ("inspected by sam porter", {"inspector": "Sam Porter"}, "inspector"),
        ("inspector is sam porter today", {"inspector": "Sam Porter"}, "inspector"),
        ("it's got 82,400 on the clock, miles", {"odometer": "82400 mi"}, "odometer"),
        ("she's done eighty nine thousand kilometres", {"odometer": "89000 km"}, "odometer"),
        ("the truck's up on the two post", {}, "stood-lift"),
        ("we're on a pit", {}, "stood-pit"),
        ("the whole underside's wet", {}, "surface-wet"),
        ("fresh underseal everywhere", {}, "surface-coated"),
        ("seller doesn't want me scraping anything", {}, "refused-scraping"),
        ("can't get the undertray off, owner says no", {}, "refused-covers"),
        ("no hammering, owner's orders", {}, "refused-probing"),
        ("not allowed to scrape, probe or hammer", {}, "refused-scraping refused-probing"),
        ("inspected by sam porter for the record", {"inspector": "Sam Porter"}, "inspector"),
        ("okay, it's on the lift. odometer 82,400 miles. owner won't let me scrape.",
         {"odometer": "82400 mi"}, "stood-lift odometer refused-scraping"),
    ],
)  # fmt: skip
def test_the_vehicle_in_one_remark(
    reader: Reader, text: str, slots: Mapping[str, str], tags: str
) -> None:
    """Whatever clauses it has; a remark, never a report, tagged by what it is about."""
    (said,) = _said(reader, text)
    assert said.act is Act.REMARK
    assert (dict(said.slots), said.tags) == (slots, ("vehicle", *tags.split()))


@pytest.mark.parametrize(
    "text",
    [
        "the odometer's broken", "odometer", "mileage", "inspected by the dealer last year",
        "who is the inspector", "inspector is", "he drove it eighty thousand miles",
        "about two miles up the road", "up a bit on the lift please", "is it on the lift",
        "snow and ice", "caked in mud", "rust on the lift arm mount", "scraping went fine",
        "no scale", "allowed", "owner says it's been a good truck", "left sill is wet",
        "odometer one two three four five six seven eight nine miles", "seven hundred miles", "",
        "I drove eighty thousand miles last year", "the lift's playing up", "it's wet in here",
        "he won't let me go home", "no scraping noise", "inspector is hungry", "inspected by noon",
        "inspection by appointment", "owner says no", "owner is on the lift", "I'm soaking wet",
        "the car's on the lift next door", "advert said eighty thousand miles", "scraping, clean",
    ],
)  # fmt: skip
def test_what_is_not_of_the_vehicle(reader: Reader, text: str) -> None:
    """A word that no phrase explains, a question, a lead without its value, a surface of nothing."""
    assert not any("vehicle" in said.tags for said in _said(reader, text))


def test_nothing_anybody_said_before_is_taken_for_it(grammar: Grammar) -> None:
    """No clause of the chatter that was collected is about the vehicle as a whole."""
    words = VehicleWords(grammar.vocabulary)
    files = sorted(_CORPUS.glob("chatter-*.txt"))
    lines = [line for file in files for line in file.read_text(encoding="utf-8").splitlines()]
    said = [line.lower().replace(",", " ").split() for line in lines if line[:1] != "#"]
    assert len(said) > 700
    assert not [one for one in said if (c := words.clause(one, 0, len(one))) and c.telling]


@pytest.mark.parametrize(
    ("beside", "tag"),
    [
        ("odometer is 82,400 miles", "odometer"), ("inspector is sam porter", "inspector"),
        ("it's on the lift", "stood-lift"), ("owner won't let me scrape", "refused-scraping"),
        ("the whole underside's undersealed", "surface-coated"),
    ],
)  # fmt: skip
def test_what_can_be_of_nothing_else_may_stand_beside_a_finding(
    reader: Reader, beside: str, tag: str
) -> None:
    """Before it or behind it; the finding reads as it would alone."""
    alone = _said(reader, "left front rail, surface rust")
    for text in ("left front rail, surface rust, {}", "{}, left front rail, surface rust"):
        remark, finding = _said(reader, text.format(beside))
        assert remark.tags == ("vehicle", tag)
        assert finding.slots == alone[0].slots


@pytest.mark.parametrize("beside", ["it's filthy", "it's on the floor", "no scraping", "it's wet"])
def test_what_may_be_of_the_place_is_not_the_vehicles_beside_one(
    reader: Reader, beside: str
) -> None:
    """Whatever it is there, it is nothing of the whole vehicle."""
    assert not any(said.tags for said in _said(reader, f"left front rail, hole, {beside}"))


@pytest.mark.parametrize(
    "text",
    [
        "left sill hole twelve millimetres odometer eighty two thousand four hundred miles",
        "odometer eighty two thousand four hundred miles left sill hole twelve millimetres",
    ],
)
def test_a_reading_needs_no_stop(reader: Reader, text: str) -> None:
    """An ear without punctuation runs it into the finding; it used to make the finding doubtful, or
    its size.
    """
    remark, finding = _said(reader, text)
    assert remark.slots == {"odometer": "82400 mi"}
    assert (finding.slots["size_mm"], finding.doubts) == (12.0, ())


def test_what_cannot_be_done_at_a_place_is_no_fault_of_it(reader: Reader) -> None:
    """ "Can't scrape" was taken for chipped coating, by its sound."""
    remark, place = _said(reader, "left front rail, can't scrape it")
    assert (remark.act, remark.tags, remark.text) == (Act.REMARK, (), "can't scrape it")
    assert place.slots == {"side": "left", "zone": "front-rail"}


@pytest.mark.parametrize("opens", ["correction, ", "correction ", "no, "])
def test_a_correction_is_one(reader: Reader, opens: str) -> None:
    """Of the reading or the name that was said before."""
    (said,) = _said(reader, f"{opens}odometer eighty three thousand miles")
    assert (said.act, said.slots) == (Act.CORRECTION, {"odometer": "83000 mi"})


@pytest.mark.parametrize(
    ("text", "otherwise"),
    [
        ("it's caked in mud", {"condition": "debris", "certainty": "stated"}),
        ("it's undersealed all over", {"condition": "recoated", "certainty": "stated"}),
        ("it's on the floor", {"zone": "floor-pan"}),
        ("it's wet", {}),
        ("the whole truck is caked in mud", None),
        ("it's on the lift", None),
        ("owner won't let me scrape", None),
    ],
)
def test_words_that_may_be_of_a_place_keep_what_they_mean_there(
    reader: Reader, text: str, otherwise: Mapping[str, str] | None
) -> None:
    """Surfaces without whose they are, and the floor; the dialogue knows where the inspector is."""
    (said,) = _said(reader, text)
    places = [dict(one.slots) for one in said.at_place]
    assert places == ([] if otherwise is None else [otherwise])


def test_words_are_shown_as_they_were_heard(reader: Reader) -> None:
    """Hostile marks never get that far; an apostrophe in a name does."""
    (said,) = _said(reader, "inspected by pat o'neill\x1b[31m")
    assert "\x1b" not in said.text + str(said.slots)
    (said,) = _said(reader, "inspected by pat o'neill")
    assert said.slots == {"inspector": "Pat O'neill"}


def test_a_grammar_without_these_words_reads_as_before() -> None:
    """An old log's own grammar has no words for the vehicle."""
    grammar = load_grammar()
    bare = type(grammar.vocabulary)(grammar.vocabulary.phrases, grammar.vocabulary.numerals)
    (said,) = _said(Reader(bare, grammar.zone_map), "it's on the lift")
    assert (said.act, said.tags) == (Act.REMARK, ())
