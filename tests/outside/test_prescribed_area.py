"""The prescribed area round a mounting.

Source: UK MOT inspection manual for cars and passenger vehicles (DVSA, GOV.UK), Appendix A, section
2: load-bearing structure within 30 cm of the mounting of an item tested under brakes, steering,
suspension or other equipment. The distance is the manual's, the grades are the tool's own.
"""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.reading import Speech
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import Ledger
from voicelog.interpret.measures import measure_at
from voicelog.runtime.opening import open_reading


def _grade(slots: Slots) -> Grade | None:
    grammar = load_grammar()
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
    entry = Entry("e1.1", "u1", "2024-01-01T00:00:00Z", Kind.FINDING, slots)
    (finding,) = ledger.apply([Add(entry)])
    return finding.grade


def _rail(condition: str, distance_mm: float) -> Slots:
    place: Slots = {"zone": "rear-rail", "side": "left", "condition": condition}
    return {**place, "mount_distance_mm": distance_mm}


@pytest.mark.parametrize("condition", ["hole", "soft-spot"])
@pytest.mark.parametrize(
    ("distance_mm", "grade"),
    [
        (0.0, Grade.UNSAFE),
        (299.0, Grade.UNSAFE),
        (300.0, Grade.UNSAFE),
        (300.1, Grade.REPAIR),
        (301.0, Grade.REPAIR),
    ],
)
def test_thirty_centimetres_are_within_and_no_more(
    condition: str, distance_mm: float, grade: Grade
) -> None:
    """The limit itself is inside; what lies beyond it is graded as the rail."""
    assert _grade(_rail(condition, distance_mm)) is grade


def test_twelve_inches_are_outside() -> None:
    """A foot is 304.8 mm: said exactly it is beyond 30 cm; eleven inches are within."""
    for said, grade in (("twelve inches", Grade.REPAIR), ("eleven inches", Grade.UNSAFE)):
        distance = measure_at(said.split(), 0, Speech())
        assert distance is not None
        assert _grade(_rail("hole", distance.value)) is grade


def test_the_mounting_itself_needs_no_distance() -> None:
    """A hole in the mounting's own metal."""
    slots: Slots = {"zone": "rear-spring-hanger", "side": "left", "condition": "hole"}
    assert _grade(slots) is Grade.UNSAFE


@pytest.mark.parametrize(
    ("said", "grade"),
    [
        ("thirty centimetres from the shock mount", Grade.UNSAFE),
        ("thirty point one centimetres from the shock mount", Grade.REPAIR),
        ("twelve inches from the shock mount", Grade.REPAIR),
        ("one foot from the shock mount", Grade.REPAIR),
        ("about a foot from the shock mount", Grade.UNSAFE),
        ("about fourteen inches from the shock mount", Grade.REPAIR),
    ],
)
def test_whole_sentences_are_measured_against_thirty_centimetres(said: str, grade: Grade) -> None:
    """30 cm is in, an exact 30.1 cm or foot is out; "about a foot" may be 30 cm, and counts as in."""
    with open_reading(Settings(), keep=False) as session:
        event = session.read(f"left rear rail, hole, {said}", at_s=0.0)
    (finding,) = event.findings
    assert finding.entry.slots["condition"] == "hole"
    assert finding.grade is grade
