"""The prescribed area round a mounting.

Source: UK MOT inspection manual for cars and passenger vehicles (DVSA, GOV.UK), Appendix A, section
2: load-bearing structure within 30 cm of the mounting of an item tested under brakes, steering,
suspension or other equipment. The distance is the manual's, the grades are the tool's own.
"""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.reading import Speech
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import Ledger
from voicelog.interpret.measures import measure_at


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
