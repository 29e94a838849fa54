"""Coating condition of IMO MSC.1/Circ.1330, section 4.1, Table 1.

GOOD: under 3 % breakdown or rust, no scale, under 20 % on edges. FAIR: 3 to 20 %, under 10 %
scale, 20 to 50 % on edges. POOR: over 20 %, 10 % scale or more, over 50 % on edges.
"""

from __future__ import annotations

import pytest

from voicelog.domain.rating import imo_condition


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
