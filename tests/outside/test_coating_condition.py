"""Coating condition of IMO MSC.1/Circ.1330, section 4.1, Table 1.

GOOD: under 3 % breakdown or rust, no scale, under 20 % on edges. FAIR: 3 to 20 %, under 10 %
scale, 20 to 50 % on edges. POOR: over 20 %, 10 % scale or more, over 50 % on edges.
"""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.rating import imo_condition
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails
from voicelog.findings.coating import coatings
from voicelog.findings.ledger import Ledger


@pytest.mark.parametrize(
    ("rusted", "scale", "edges", "condition"),
    [
        (0, 0, 0, "GOOD"),
        (2.9, 0, 19, "GOOD"),
        (3, 0, 0, "FAIR"),
        (20, 0, 0, "FAIR"),
        (20.1, 0, 0, "POOR"),
        (1, 1, 0, "FAIR"),
        (1, 9.9, 0, "FAIR"),
        (1, 10, 0, "POOR"),
        (1, 0, 20, "FAIR"),
        (1, 0, 50, "FAIR"),
        (1, 0, 51, "POOR"),
    ],
)
def test_the_worst_of_three_measures_counts(
    rusted: float, scale: float, edges: float, condition: str
) -> None:
    """Every limit of the table; at 10 % scale the table is followed, not the text beside it."""
    found = imo_condition(rusted, scale_percent=scale, edges_percent=edges)
    assert str(found) == condition


RUST, SCALE = {"condition": "surface-rust"}, {"condition": "scale"}
EDGE = {"condition": "surface-rust", "part": "edge"}


@pytest.mark.parametrize(
    ("told", "condition"),
    [
        ([(RUST, 0.0)], "GOOD"),
        ([(RUST, 2.9), (EDGE, 19.0)], "GOOD"),
        ([(RUST, 3.0)], "FAIR"),
        ([(RUST, 20.0)], "FAIR"),
        ([(RUST, 20.1)], "POOR"),
        ([(SCALE, 1.0)], "FAIR"),
        ([(RUST, 1.0), (SCALE, 9.9)], "FAIR"),
        ([(RUST, 1.0), (SCALE, 10.0)], "POOR"),
        ([(RUST, 1.0), (EDGE, 20.0)], "FAIR"),
        ([(RUST, 1.0), (EDGE, 51.0)], "POOR"),
    ],
)
def test_the_table_on_what_was_said_of_one_place(
    told: list[tuple[Slots, float]], condition: str
) -> None:
    """The same limits, reached by the entries of one place: rust, hard scale, edges."""
    grammar = load_grammar()
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
    for number, (slots, percent) in enumerate(told, 1):
        place: Slots = {"zone": "sill", "side": "left", "area_percent": percent, **slots}
        entry = Entry(f"e{number}.1", f"u{number}", "2024-01-01T00:00:00Z", Kind.FINDING, place)
        ledger.take([Add(entry)])
    rated = coatings(ledger.inspection(), grammar.zone_map)
    assert str(rated["sill", "left"].imo) == condition
