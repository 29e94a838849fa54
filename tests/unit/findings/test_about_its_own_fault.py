"""What is said beside a fault: it decides of the fault that it is about, and of no other."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from typing import Any

import pytest

from voicelog.domain.slot import CONDITIONS
from voicelog.findings.grading import Graded

Read = Callable[..., Graded]

PLACES = (
    "mid-rail", "shock-mount", "cab-mount", "crush-section", "frame-horn", "sill", "floor-pan", "brake-line",
    "fuel-tank", "spare-carrier",
)  # fmt: skip
"""One of each role, and those that have rules of their own."""


@pytest.mark.parametrize(
    ("said", "about"),
    [
        ({"text": "kinked"}, "deformation"), ({"text": "a dent"}, "deformation"),
        ({"text": "light pitting"}, "pitting"), ({"text": "smells of fuel"}, "leak"),
        ({"text": "riveted"}, "old-repair"),
        ({"loss_percent": 5.0}, "thinning"),
        ({"loss_percent": -5.0}, "thinning"),
        ({"loss_percent": 5.0, "layer": "metal"}, "thinning scale pitting"),
        *(({"method": how}, "blistering peeling-coating") for how in ("scraped", "probed", "gauged")),
    ],
)  # fmt: skip
@pytest.mark.parametrize("probe", ["", " probe=firm"])
def test_what_is_said_decides_only_of_the_fault_that_it_is_about(
    said: dict[str, Any], about: str, probe: str, read: Read
) -> None:
    """A hole beside a dent is a hole, and a crack in metal of full thickness is a crack; nor does it say
    what a fault is that nobody knows.
    """
    others = {*CONDITIONS} - {*about.split()} | {"something-new"}
    for condition, zone in product(sorted(others), PLACES):
        finding = f"{zone} {condition}{probe}"
        assert read(finding, **said).rules == read(finding).rules, finding


@pytest.mark.parametrize("probe", ["", " probe=firm"])
@pytest.mark.parametrize("zone", PLACES)
def test_what_nobody_foresaw_is_treated_and_unproven(zone: str, probe: str, read: Read) -> None:
    """Wherever it is, and however firm the metal: no rule for another fault takes it for its own."""
    graded = read(f"{zone} something-new{probe}")
    assert (graded.rules[0], graded.computed, graded.unproven) == ("anything-else", "treat", True)
