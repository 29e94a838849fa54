"""What a slot may carry to the outside, and what becomes of the rest."""

from __future__ import annotations

import math

import pytest

from voicelog.domain.slot import SLOTS
from voicelog.export.values import LARGEST, clean, plain, ranges_to_json, slots_to_json


def test_slots_come_in_the_contract_order_whatever_order_they_were_said_in() -> None:
    """Two logs that say the same print the same."""
    slots, lost = slots_to_json({"size_mm": 15, "zone": "kick-up", "side": "left"})
    assert list(slots.items()) == [("zone", "kick-up"), ("side", "left"), ("size_mm", 15.0)]
    assert lost == ()


@pytest.mark.parametrize(
    ("said", "printed"),
    [
        (19.049999999999997, 19.05),
        (1.5748031, 1.5748),
        (-0.0, 0.0),
        (0.00001, 0.0),
        (LARGEST, 1_000_000.0),
    ],
)
def test_lengths_have_four_decimals_and_no_negative_zero(said: float, printed: float) -> None:
    """Arithmetic on inches leaves tails that nobody measured."""
    slots, _ = slots_to_json({"size_mm": said})
    assert slots["size_mm"] == printed
    assert math.copysign(1, float(slots["size_mm"])) == 1


@pytest.mark.parametrize(
    ("slot", "value"),
    [
        ("size_mm", math.nan),
        ("size_mm", math.inf),
        ("size_mm", -1.0),
        ("size_mm", 1e300),
        ("size_mm", 10**400),
        ("size_mm", True),
        ("size_mm", "fifteen"),
        ("count", 2.5),
        ("count", -1),
        ("loss_percent", -math.inf),
        ("side", "driver"),
        ("side", 3),
        ("zone", "Kick-Up"),
        ("zone", "kick-up\n"),
        ("landmark", 4),
        ("kind", "finding"),
        ("colour", "red"),
    ],
)
def test_what_the_contract_has_no_room_for_is_named_as_lost(slot: str, value: object) -> None:
    """It is neither printed nor dropped without a word."""
    slots, lost = slots_to_json({slot: value})  # type: ignore[dict-item]
    assert slots == {}
    assert lost == (slot,)


def test_empty_text_is_not_known_rather_than_lost() -> None:
    """An empty landmark is no landmark."""
    assert slots_to_json({"landmark": "", "zone": ""}) == ({}, ())


@pytest.mark.parametrize("value", [2, 2.0])
def test_counts_are_whole_numbers(value: float) -> None:
    """2.0 holes are 2 holes."""
    slots, _ = slots_to_json({"count": value})
    assert repr(slots["count"]) == "2"


@pytest.mark.parametrize(
    ("measured", "nominal", "loss"),
    [(1.9, 2.5, 24.0), (1.524, 3.048, 50.0), (2.0, 3.0, 33.3), (2.6, 2.5, -4.0), (2.5, 2.5, 0.0)],
)
def test_loss_is_worked_out_from_both_thicknesses(
    measured: float, nominal: float, loss: float
) -> None:
    """(nominal - measured) / nominal, one decimal, not clipped when it reads thicker than new."""
    slots, _ = slots_to_json({"nominal_mm": nominal, "thickness_mm": measured})
    assert slots["loss_percent"] == loss
    assert list(slots) == ["thickness_mm", "nominal_mm", "loss_percent"]


def test_a_loss_that_was_said_is_left_alone() -> None:
    """The inspector's own figure counts."""
    slots, _ = slots_to_json({"nominal_mm": 2.5, "thickness_mm": 1.9, "loss_percent": 30})
    assert slots["loss_percent"] == 30.0


@pytest.mark.parametrize(("measured", "nominal"), [(1.0, 0.0), (1.0, 0.00001), (LARGEST, 0.001)])
def test_no_loss_is_made_up_from_an_impossible_nominal(measured: float, nominal: float) -> None:
    """Nothing is divided by zero, and no number beyond the contract's range comes out."""
    slots, lost = slots_to_json({"thickness_mm": measured, "nominal_mm": nominal})
    assert "loss_percent" not in slots
    assert lost == ()


def test_every_slot_of_the_domain_can_be_handed_over() -> None:
    """A slot added to the domain is printed without a change here."""
    sample = {"name": "hole", "text": "by the tank", "count": 2, "length": 2.0, "percent": 2.0}
    said = {name: sample.get(spec.kind) or spec.choices[0] for name, spec in SLOTS.items()}
    slots, lost = slots_to_json(said)
    assert (tuple(slots), lost) == (tuple(SLOTS), ())


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("by the tank", "by the tank"),
        ("nul\0 bell\a esc\x1b[2J \u202eabc", "nul\0 bell\a esc\x1b[2J \u202eabc"),
        ("half\ud800", "half\ufffd"),
        ("\udc80raw byte", "\ufffdraw byte"),
        ("\ud83d\ude00", "\ufffd\ufffd"),
        ("\U0001f600", "\U0001f600"),
    ],
)
def test_only_surrogates_are_replaced_in_text(text: str, kept: str) -> None:
    """All else is what was said; readers are told to treat it as data."""
    assert clean(text) == kept


def test_any_object_becomes_something_json_can_hold() -> None:
    """Settings and hashes come from other packages."""
    value = {1: (math.nan, 1.5, True, None), "\ud800": {"deep": [math.inf, complex(0, 1)]}}
    assert plain(value) == {"1": [None, 1.5, True, None], "\ufffd": {"deep": [None, "1j"]}}


def test_ranges_are_handed_over_lower_end_first() -> None:
    """Rounded like the slots; counts stay numbers."""
    assert ranges_to_json({"size_mm": (15.0, 10.00004), "count": (3, 4)}) == {
        "size_mm": [10.0, 15.0],
        "count": [3.0, 4.0],
    }


@pytest.mark.parametrize("ends", [(math.nan, 1.0), (1.0, math.inf), (-1.0, 1.0)])
def test_a_range_the_contract_has_no_room_for_is_left_out(ends: tuple[float, float]) -> None:
    """The slot itself still holds the number that counts."""
    assert ranges_to_json({"size_mm": ends, "never-heard-of": (1.0, 2.0)}) == {}
