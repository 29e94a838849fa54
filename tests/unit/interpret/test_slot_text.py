"""Values of slots as they are typed, and as a field shows them."""

from __future__ import annotations

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.entry import Kind
from voicelog.domain.reading import Speech
from voicelog.domain.slot import SLOTS, SlotValue
from voicelog.errors import UsageFault
from voicelog.interpret.slot_text import Assigned, slot_assignments, slot_value, value_in_words
from voicelog.interpret.slot_words import values_of

_INCHES = Speech(unit_mm=25.4)
_THOU = Speech(unit_mm=0.0254, mil="thou")


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped words and map."""
    return load_grammar()


def _value(grammar: Grammar, slot: str, text: str, speech: Speech = Speech()) -> SlotValue:
    return slot_value(slot, text, grammar.zone_map, grammar.vocabulary, speech=speech)


def _fault(grammar: Grammar, slot: str, text: str, speech: Speech = Speech()) -> UsageFault:
    with pytest.raises(UsageFault) as caught:
        _value(grammar, slot, text, speech)
    return caught.value


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("4.8 mm", 4.8), ("4.8mm", 4.8), (" 4.8  MM ", 4.8), ("4.8", 4.8), ("3/16 in", 4.7625),
        ("3/16in.", 4.7625), ('3/16"', 4.7625), ("3/16″", 4.7625), ("3/16''", 4.7625), ("3⁄16”", 4.7625),
        ("3/16", 4.7625), ('1 1/2"', 38.1), ('1-1/2"', 38.1), ('1½"', 38.1), ("1⅓ in", 33.8667),
        ("80 thou", 2.032), ("1.2cm", 12.0), (".5 in", 12.7), ("5' 2\"", 1574.8), ("5'2''", 1574.8),
        ("2 ft 3 in", 685.8), ("three sixteenths of an inch", 4.7625), ("half an inch", 12.7),
        ("an inch and a half", 38.1), ("size of a quarter", 24.26), ("about 5 mm", 5.0),
        ("4,8 mm", 4.8), ("0,125 in", 3.175), ("1,200 mm", 1200.0), ("４.８㎜", 4.8),
        ("4.7625 mm (0.188 in)", 4.7625),
    ],
)  # fmt: skip
def test_lengths_take_units_as_people_write_and_say_them(
    grammar: Grammar, text: str, mm: float
) -> None:
    """In millimetres, as a float whatever was typed."""
    value = _value(grammar, "size_mm", text)
    assert value == mm
    assert isinstance(value, float)


@pytest.mark.parametrize(
    ("text", "speech", "mm"),
    [
        ("2", _INCHES, 50.8), ("1/2", _INCHES, 12.7), ("120", _THOU, 3.048), (".090", _THOU, 2.286),
        ("90 mil", _THOU, 2.286), ("9 mil", Speech(), 9.0), ("2 mm", _INCHES, 2.0),
    ],
)  # fmt: skip
def test_a_bare_number_is_in_the_speakers_unit(
    grammar: Grammar, text: str, speech: Speech, mm: float
) -> None:
    """And "mil" is what this person calls so; a unit that was typed counts."""
    assert _value(grammar, "size_mm", text, speech) == mm


@pytest.mark.parametrize("text", ["1/2", "3/4", "a third", "1 1/2"])
def test_a_bare_fraction_of_a_millimetre_needs_its_unit(grammar: Grammar, text: str) -> None:
    """Half an inch taken for half a millimetre would make a hole look harmless."""
    fault = _fault(grammar, "size_mm", text)
    assert "needs its unit" in fault.message
    assert " in (" in fault.hint


@pytest.mark.parametrize("text", ["10 gauge", "10ga", "gauge ten"])
def test_a_gauge_is_a_thickness_and_nothing_else(grammar: Grammar, text: str) -> None:
    """0.1345 in, Manufacturers' Standard Gauge; no size is given by a gauge."""
    assert _value(grammar, "nominal", text) == 3.4163
    assert "is a thickness" in _fault(grammar, "size", text).message


@pytest.mark.parametrize(
    ("slot", "text", "value"),
    [
        ("loss_percent", "33", 33.0), ("loss_percent", "33 %", 33.0), ("loss", "33.5%", 33.5),
        ("loss", "-5 %", -5.0), ("loss", "minus five percent", -5.0), ("area", "a third", 33.3333),
        ("area", "1/8", 12.5), ("area", "half of it", 50.0), ("area", "twenty percent", 20.0),
        ("count", "3", 3), ("count", "three", 3), ("count", "a couple", 2), ("count", "1.0", 1),
        ("count", "half a dozen", 6), ("ordinal", "2", 2), ("ordinal", "second", 2),
        ("ordinal", "2nd", 2), ("ordinal", "#2", 2), ("ordinal", "no. 2", 2),
        ("ordinal", "number two", 2),
    ],
)  # fmt: skip
def test_shares_and_counts(grammar: Grammar, slot: str, text: str, value: SlotValue) -> None:
    """Percents are floats, counts are whole."""
    found = _value(grammar, slot, text)
    assert found == value
    assert type(found) is type(value)


@pytest.mark.parametrize(
    ("slot", "text"),
    [
        ("size", "in"), ("size", "5 bananas"), ("size", "4 to 6 mm"), ("size", "6 x 4 in"),
        ("size", "33 %"), ("size", "nan"), ("size", "1e3"), ("size", "5²"), ("size", "4 8 mm"),
        ("size", "5 mm!"), ("size", "5 ± 1 mm"), ("size", "1_0"), ("size", "9" * 400), ("size", "1/0 in"),
        ("size", "1. 5 mm"), ("size", "about -5 mm"), ("size", "12½1 mm"),
        ("size", ", 5 mm"), ("size", "12 , '"), ("count", "2.5"), ("count", "3 mm"), ("ordinal", "no one"), ("loss", "5 mm"),
        ("loss", "half a dozen mm"),
    ],
)  # fmt: skip
def test_what_is_not_one_number_is_refused(grammar: Grammar, slot: str, text: str) -> None:
    """Nothing in it is skipped silently; the hint shows how it is done."""
    fault = _fault(grammar, slot, text)
    assert "is not one" in fault.message
    assert fault.hint.startswith("Give a ")


@pytest.mark.parametrize(
    ("slot", "text", "speech", "message", "hint"),
    [
        ("size", "0.19 mm", Speech(), "size_mm: 0.19 mm is outside 0.3 to 3000 mm",
         "Did you mean 0.19 in (4.83 mm)?"),
        ("size", "0.19", Speech(), "size_mm: 0.19 mm is outside 0.3 to 3000 mm",
         "Did you mean 0.19 in (4.83 mm)?"),
        ("thickness", "80", Speech(), "thickness_mm: 80 mm is outside 0.1 to 15 mm",
         "Did you mean 80 thou (2.03 mm)?"),
        ("thickness", "3", _INCHES, "thickness_mm: 76.2 mm is outside 0.1 to 15 mm",
         "Did you mean 3 mm?"),
        ("size", "5 m", Speech(), "size_mm: 5000 mm is outside 0.3 to 3000 mm", "Did you mean 5 mm?"),
        ("size", "-5 mm", Speech(), "size_mm: -5 mm is outside 0.3 to 3000 mm", "Check the number"),
        ("thickness", "size of a dime", Speech(), "thickness_mm: 17.91 mm is outside 0.1 to 15 mm",
         "Check the number"),
        ("loss", "140", Speech(), "loss_percent: 140 % is outside -20 to 100 %", "Check the number"),
        ("ordinal", "15", Speech(), "ordinal: 15 is outside 1 to 12", "Check the number"),
    ],
)  # fmt: skip
def test_a_number_out_of_the_ordinary_is_refused(
    grammar: Grammar, slot: str, text: str, speech: Speech, message: str, hint: str
) -> None:
    """With the bounds, and with the unit in which it would do."""
    fault = _fault(grammar, slot, text, speech)
    assert (fault.message, fault.hint) == (message, hint)


@pytest.mark.parametrize(
    ("slot", "text", "value"),
    [
        ("side", "left", "left"), ("side", "Left Hand", "left"), ("side", "the right", "right"),
        ("side", "both sides", "both"), ("side", "nearside", "left"), ("face", "inside", "interior"),
        ("face", "at the back", "rear"), ("face", "front", "front"), ("probe", "went straight in", "through"),
        ("method", "screwdriver", "probed"), ("layer", "bare metal", "metal"), ("part", "web", "web"),
        ("surround", "firm", "firm"), ("certainty", "tentative", "tentative"),
        ("spoken_grade", "needs repair", "repair"), ("zone", "front-rail", "front-rail"),
        ("zone", "Front Rail", "front-rail"), ("zone", "cab_mount", "cab-mount"),
        ("zone", "dumb irons", "frame-horn"), ("zone", "the sill", "sill"),
        ("zone", "spare wheel carrier", "spare-carrier"), ("condition", "Rust-Weep", "rust-weep"),
        ("condition", "rust weep", "rust-weep"), ("condition", "spongy", "soft-spot"),
        ("condition", "rust", "surface-rust"),
    ],
)  # fmt: skip
def test_names_go_by_id_title_or_what_is_said(
    grammar: Grammar, slot: str, text: str, value: str
) -> None:
    """Capitals, hyphens, plurals and an article make no difference."""
    assert _value(grammar, slot, text) == value


def test_the_drivers_side_is_where_the_driver_sits(grammar: Grammar) -> None:
    """As in speech; where that is not known, it is asked for."""
    assert _value(grammar, "side", "driver side", Speech(driver_side="right")) == "right"
    assert _value(grammar, "side", "passenger side", Speech(driver_side="right")) == "left"
    assert _value(grammar, "side", "kerb side", Speech(nearside="right")) == "right"
    fault = _fault(grammar, "side", "driver side")
    assert "which side the driver sits on is not known" in fault.message
    assert fault.hint == "Give one of: left, right"


def test_a_name_that_zones_share_is_refused_with_the_options(grammar: Grammar) -> None:
    """A rail alone leaves it open which."""
    fault = _fault(grammar, "zone", "rail")
    assert fault.hint == "Give one of: front-rail, mid-rail, rear-rail"


@pytest.mark.parametrize(
    ("slot", "text", "near"),
    [
        ("zone", "seal", "sill"), ("zone", "dam iron", "frame-horn"), ("condition", "hail", "hole"),
        ("condition", "surfce rust", "surface-rust"), ("side", "rigth", "right"), ("probe", "threw", "through"),
    ],
)  # fmt: skip
def test_an_unknown_name_is_refused_with_the_nearest(
    grammar: Grammar, slot: str, text: str, near: str
) -> None:
    """By sound too; what recognisers make of a name is no name."""
    assert _fault(grammar, slot, text).hint.startswith(f"Did you mean {near}")


def test_where_nothing_is_near_all_names_are_given(grammar: Grammar) -> None:
    """One of them must be the right one."""
    assert _fault(grammar, "side", "qqqq").hint == "There are: left, right, both, centre"


def test_text_is_trimmed_and_short(grammar: Grammar) -> None:
    """500 characters at most; half characters, which no strict reader takes, are replaced."""
    assert _value(grammar, "landmark", "  by  the\nseam ") == "by the seam"
    assert _value(grammar, "landmark", "seam \udcff") == "seam \ufffd"
    assert _value(grammar, "landmark", "x" * 500) == "x" * 500
    assert "longer than 500" in _fault(grammar, "landmark", "x" * 501).message
    assert "has no value" in _fault(grammar, "landmark", " \n").message


def test_what_is_spelled_keeps_letters_and_digits(grammar: Grammar) -> None:
    """In upper case without what groups them; anything else is refused rather than dropped."""
    assert _value(grammar, "vin", "1hg cm82-633") == "1HGCM82633"
    assert _value(grammar, "plate", "ab 12 cde") == "AB12CDE"
    assert "not only letters and digits" in _fault(grammar, "paint_code", "a_b!").message


def test_hostile_text_is_shown_harmless_and_short(grammar: Grammar) -> None:
    """No message steers a terminal."""
    for slot in SLOTS:
        if SLOTS[slot].kind != "text":
            fault = _fault(grammar, slot, "\x1b[31mred\u202e" + "z" * 400)
            assert str(fault).isprintable()
            assert len(fault.message) < 200


@pytest.mark.parametrize(
    ("slot", "value", "shown"),
    [
        ("size_mm", 4.7625, "4.7625 mm (0.188 in)"), ("size_mm", 4.8, "4.8 mm (0.189 in)"),
        ("size_mm", 1200.0, "1200 mm (47.244 in)"), ("loss_percent", -5.0, "-5 %"), ("count", 3, "3"),
        ("zone", "front-rail", "Front rail"), ("zone", "no-such", "no-such"), ("side", "left", "left"),
        ("condition", "rust-weep", "rust weep"), ("landmark", "by\x1bit", "by?it"),
    ],
)  # fmt: skip
def test_a_field_shows_a_value_in_words(
    grammar: Grammar, slot: str, value: SlotValue, shown: str
) -> None:
    """Lengths in inches too."""
    assert value_in_words(slot, value, grammar.zone_map) == shown


def test_every_name_comes_back_from_its_field(grammar: Grammar) -> None:
    """Whoever leaves a field as it was changes nothing."""
    for slot in SLOTS:
        for value in values_of(slot, grammar.zone_map):
            shown = value_in_words(slot, value, grammar.zone_map)
            assert _value(grammar, slot, shown) == value


def _assigned(grammar: Grammar, *texts: str) -> Assigned:
    return slot_assignments(texts, grammar.zone_map, grammar.vocabulary)


def test_assignments_set_and_drop(grammar: Grammar) -> None:
    """A name may lack its unit; without a value the slot is dropped."""
    assert _assigned(grammar, "side=right", "Size = 3/16 in", "face=", "mount-distance=6 in") == (
        Assigned({"side": "right", "size_mm": 4.7625, "mount_distance_mm": 152.4}, ("face",))
    )
    assert _assigned(grammar, "landmark=a=b").set == {"landmark": "a=b"}
    assert _assigned(grammar) == Assigned()


def test_kind_and_reason_are_no_slots(grammar: Grammar) -> None:
    """They stand beside the slots; an empty reason is one that goes."""
    unseen = _assigned(grammar, "kind=not seen", "reason=under  the mud")
    assert unseen == Assigned(kind=Kind.NOT_SEEN, reason="under the mud")
    assert _assigned(grammar, "kind=CLEAR").kind is Kind.CLEAR
    assert _assigned(grammar, "reason=").reason == ""


@pytest.mark.parametrize(
    ("texts", "hint"),
    [
        (["sied=left"], "side"), (["grade=repair"], "spoken_grade"), (["kind=cleer"], "clear"),
        (["side"], "slot=value"), (["side=left", "side="], "once"), (["size=1 in", "size_mm=2"], "once"),
        (["kind="], "finding, clear"), (["kind=clear", "reason=mud"], "kind=not-seen"),
        (["=left"], "zone, ordinal"), (["side=lift"], "left"), (["reason=" + "x" * 501], "Shorten"),
    ],
)  # fmt: skip
def test_a_faulty_assignment_is_refused(grammar: Grammar, texts: list[str], hint: str) -> None:
    """The hint says what would do."""
    with pytest.raises(UsageFault) as caught:
        _assigned(grammar, *texts)
    assert hint in caught.value.hint


def test_another_language_has_its_own_words() -> None:
    """Numbers, units and names of the German grammar, and its comma."""
    german = load_grammar(folder=grammar_dir() / "de", behind=grammar_dir())
    assert _value(german, "size", "3,175 Millimeter") == 3.175
    assert _value(german, "size", "zwei Zentimeter") == 20.0
    assert _value(german, "loss", "dreißig Prozent") == 30.0
    assert _value(german, "side", "links") == "left"
    assert _value(german, "zone", "Schweller") == "sill"
