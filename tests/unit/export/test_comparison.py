"""The comparison as a document: its shape, and what is left out of it."""

from __future__ import annotations

import json
from typing import Any, get_args

import pytest
from pydantic import TypeAdapter, ValidationError

from voicelog.domain.comparison import CHANGES, Comparison, Difference, Rate, Standing
from voicelog.domain.grade import Grade
from voicelog.export.comparison import comparison_document, difference_to_json
from voicelog.export.comparison_shapes import Change, ComparisonDocument
from voicelog.export.json_file import json_text

SHAPE = TypeAdapter(ComparisonDocument)
ONE, TWO = "6ba7b810-9dad-41d1-80b4-00c04fd430c8", "6ba7b811-9dad-41d1-80b4-00c04fd430c8"
STOOD = Standing("pickup 12", "", "ladder-frame", "not-enough-seen", "none", "unknown")
RATE = Rate(3.0, 2.4, 1.5, 0.4, 0.13333333, 1.0, 0.5625)
GREW = Difference(
    "grew", "front-rail", "left", "Left front rail: thinning.", ("e1.1",), ("e2.1",), RATE,
    Grade.TREAT, Grade.REPAIR,
)  # fmt: skip


def compared(*differences: Difference, **given: Any) -> Comparison:
    """Two logs and what differs."""
    at = "2026-01-05T08:00:00+01:00", "2027-01-05T08:00:00Z"
    places = {"both": 3, "then": 1, "now": 0, "never": 40}
    return Comparison(ONE, TWO, *at, differences, then=STOOD, now=STOOD, places=places, **given)


def test_a_comparison_fits_its_shape() -> None:
    """Everything that can be there, and as plain JSON."""
    document = comparison_document(compared(GREW, warnings=("The VINs differ",)))
    SHAPE.validate_python(document)
    assert json.loads(json_text(document)) == document
    assert document["differences"][0]["rate"]["years_left_least"] == 0.5625
    assert document["counts"] == {"grew": 1}


def test_what_is_not_known_is_left_out() -> None:
    """No null anywhere; the VIN nobody spelled is no empty text."""
    bare = Difference("not-looked-at-again", "sill", None, "Sill: looked at then.")
    document = comparison_document(compared(bare))
    assert "null" not in json_text(document)
    assert document["differences"][0].keys() == {"change", "zone", "older", "newer", "text"}
    assert "vin" not in document["older"]
    SHAPE.validate_python(document)


def test_a_rate_without_years_left_says_whether_it_is_a_loss() -> None:
    """0.03 mm a year with 0.13 mm of doubt is none."""
    rate = Rate(3.0, 2.95, 1.5, 0.0333, 0.1333)
    told = difference_to_json(Difference("same", "sill", "left", "Same.", rate=rate))["rate"]
    assert told["loss"] is False
    assert "years_left" not in told


def test_places_of_no_name_and_halves_of_characters() -> None:
    """A log may hold anything; the document holds what JSON readers take."""
    odd = Difference("appeared", "Odd Place!", "upside-down", "\ud800", (), ("e1.1",))
    told = difference_to_json(odd)
    assert (told["zone"], told["text"]) == ("unplaced", "\ufffd")
    assert "side" not in told


@pytest.mark.parametrize(
    "wrong",
    [
        {"contract": "0"},
        {"counts": {"grew": 0}},
        {"counts": {"shrank": 1}},
        {"places": {"both": 3}},
        {"older": {}},
        {"more": 1},
    ],
)
def test_the_shape_refuses(wrong: dict[str, Any]) -> None:
    """Unknown keys, unknown changes, missing parts."""
    with pytest.raises(ValidationError):
        SHAPE.validate_python(comparison_document(compared(GREW)) | wrong)


def test_the_shape_knows_every_change() -> None:
    """One list in the domain, one in the contract."""
    assert set(get_args(Change)) == set(CHANGES)
