"""What a log knows of its vehicle: three sources in order, their disagreements, damaged lines."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from voicelog.domain.entry import Entry, Finding, Inspection, Kind
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Verdict
from voicelog.domain.vehicle import Odometer, Refusal, Vehicle
from voicelog.errors import LogFault
from voicelog.findings.vehicle import vehicle_of

AT = "2026-03-14T08:05:30.250Z"
GOOD, BAD = "1M8GDM9AXKP042788", "1M8GDM5AXKP042788"


def _opened(**told: Any) -> Fact:
    body = {"subject": "pickup 12", **({"vehicle": told} if told else {})}
    return Fact(1, AT, 0.0, "", "opened", body)


def _noted(line: int, told: Any) -> Fact:
    return Fact(line, AT, 0.0, "", "vehicle", {"set": told, "by": "Sam"})


def _remark(line: int, *tags: str, withdrawn: bool = False, **more: Any) -> Finding:
    tags = ("vehicle", *tags) if "spelt" not in tags else tags
    entry = Entry(f"e{line}.1", f"u{line}", AT, Kind.REMARK, tags=tags, **more)
    return Finding(entry, withdrawn=withdrawn)


def _vehicle(*facts: Fact, said: tuple[Finding, ...] = ()) -> Vehicle:
    inspection = Inspection(said, {}, (), Verdict("not-enough-seen", "none", "unknown"))
    return vehicle_of(facts, inspection)


def test_nothing_told_is_nothing_known() -> None:
    """But when the log was opened, and its subject."""
    assert _vehicle(_opened()) == Vehicle(described="pickup 12", inspected_on=AT)


def test_all_sources_together() -> None:
    """Flags, what was said, what was noted; the VIN with what its check says."""
    vehicle = _vehicle(
        _opened(vin=BAD, inspector="Sam", surface=["dirty"]),
        _noted(9, {"plate": "AB1", "odometer": {"value": 82400, "unit": "mi"}}),
        said=(
            _remark(3, "stood-lift"),
            _remark(4, "surface-wet"),
            _remark(5, "refused-scraping", text="owner won't let me scrape"),
            _remark(6, "spelt", "paint-code", slots={"paint_code": "K47"}),
        ),
    )
    assert vehicle == Vehicle(
        described="pickup 12", vin=BAD, plate="AB1", paint_code="K47", inspected_on=AT,
        vin_problem="position 9 is X, the other characters ask for 2",
        odometer=Odometer(82400, "mi"), inspector="Sam", stood="lift", surface=("dirty", "wet"),
        refusals=(Refusal("scraping", "owner won't let me scrape"),),
    )  # fmt: skip


def test_the_later_line_holds() -> None:
    """In the order of the log, whatever told it; an empty one takes back."""
    said = (_remark(3, "odometer", slots={"odometer": "90000 mi"}), _remark(5, "stood-pit"))
    early = _noted(2, {"stood": "lift", "odometer": {"value": 1, "unit": "km"}})
    vehicle = _vehicle(_opened(plate="AB1"), early, _noted(7, {"plate": ""}), said=said)
    assert (vehicle.stood, vehicle.plate) == ("pit", "")
    assert vehicle.odometer == Odometer(90000, "mi")
    assert _vehicle(_opened(), early, _noted(9, {"odometer": None})).odometer is None


def test_a_withdrawn_remark_tells_nothing() -> None:
    """Nor does one whose words are about something else."""
    gone = _remark(3, "stood-lift", "odometer", slots={"odometer": "5 km"}, withdrawn=True)
    other = Finding(Entry("e4.1", "u4", AT, Kind.REMARK, tags=("stored-damp", "stood-lift")))
    assert _vehicle(_opened(), said=(gone, other)) == _vehicle(_opened())


def test_two_sources_that_differ_are_told() -> None:
    """Of each source its newest word; what one of them corrected itself is no disagreement."""
    vehicle = _vehicle(
        _opened(vin=GOOD, odometer={"value": 82400, "unit": "mi"}),
        _noted(9, {"odometer": {"value": 82500, "unit": "mi"}}),
        said=(
            _remark(3, "spelt", "vin", slots={"vin": BAD}),
            _remark(4, "odometer", slots={"odometer": "7 km"}),
            _remark(5, "odometer", slots={"odometer": "82400 mi"}),
        ),
    )
    assert vehicle.vin == BAD
    assert vehicle.contradictions == (
        f"Sources differ on the VIN: {GOOD} (at the start) and {BAD} (said)",
        "Sources differ on the odometer reading: 82400 mi (at the start) and 82400 mi (said) and 82500 mi (noted later)",
    )


def test_the_same_reading_in_another_unit_is_no_disagreement() -> None:
    """82 400 miles are 132 610 km; a reading without a unit agrees by its number."""
    told = {"value": 82400, "unit": "mi"}
    same = _vehicle(
        _opened(odometer=told), _noted(4, {"odometer": {"value": 132610, "unit": "km"}})
    )
    assert not same.contradictions
    bare = _remark(3, "odometer", slots={"odometer": "82400"}, doubts=("no unit",))
    vehicle = _vehicle(_opened(odometer=told), said=(bare,))
    assert (vehicle.odometer, vehicle.contradictions) == (Odometer(82400, "mi"), ())
    assert vehicle.doubts == ("odometer 82400 is in doubt: no unit (e3.1)",)


def test_lists_add_up_and_are_taken_back() -> None:
    """A surface that is noted replaces what was told before; refusals add up, the last why holds."""
    dirty, ice = _remark(3, "surface-dirty"), _remark(9, "surface-iced")
    refused = _remark(4, "refused-probing", text="no probing")
    noted = _noted(7, {"surface": ["coated"], "refusals": [{"what": "probing", "why": "wax"}]})
    vehicle = _vehicle(_opened(), noted, said=(dirty, refused, ice))
    assert vehicle.surface == ("coated", "iced")
    assert vehicle.refusals == (Refusal("probing", "wax"),)
    none = _vehicle(_opened(), _noted(7, {"surface": [], "refusals": []}), said=(dirty, refused))
    assert (none.surface, none.refusals) == ((), ())


def test_words_of_a_newer_version_are_passed_over() -> None:
    """Another way to stand, another surface, another key: the rest is read."""
    newer = {
        "stood": "crane", "surface": ["wet", "sandy"], "refusals": [{"what": "towing"}], "wheels": 6,
        "plate": "AB1",
    }  # fmt: skip
    vehicle = _vehicle(_opened(**newer))
    assert (vehicle.stood, vehicle.surface, vehicle.refusals) == ("", ("wet",), ())
    assert vehicle.plate == "AB1"


@pytest.mark.parametrize(
    "told",
    [
        None, [], "AB1", {"vin": 7}, {"plate": None}, {"odometer": 82400}, {"odometer": {"value": 5}},
        {"odometer": {"value": "5", "unit": "km"}}, {"odometer": {"value": -1, "unit": "km"}},
        {"odometer": {"value": 1e9, "unit": "km"}}, {"odometer": {"value": 5, "unit": []}},
        {"odometer": {"value": float("nan"), "unit": "km"}}, {"odometer": {"value": True, "unit": "km"}},
        {"surface": "wet"}, {"surface": [1]}, {"refusals": {}}, {"refusals": ["scraping"]},
        {"refusals": [{"why": "no"}]}, {"refusals": [{"what": "scraping", "why": 5}]}, {"stood": ["lift"]},
    ],
)  # fmt: skip
def test_a_line_that_cannot_be_read_is_one_clear_fault(told: Any) -> None:
    """It names its line, where a person can look."""
    with pytest.raises(LogFault, match="Line 4 of the journal tells of the vehicle"):
        _vehicle(_opened(), _noted(4, told))


def test_the_fold_is_shown_harmless() -> None:
    """Control marks in a number reach no sentence."""
    slots: Mapping[str, str] = {"plate": "A\x1b[31mB"}
    said = (_remark(3, "spelt", "plate", slots=slots, doubts=("odd\x07",)),)
    vehicle = _vehicle(_opened(plate="AB1"), said=said)
    assert "\x1b" not in "".join((*vehicle.contradictions, *vehicle.doubts))
