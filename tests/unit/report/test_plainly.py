"""What the trade says, for somebody who has never seen a frame."""

from __future__ import annotations

from dataclasses import replace

import pytest
from inspected import entry, log_of, material

from voicelog.config.grammar import Grammar
from voicelog.domain.slot import CONDITIONS
from voicelog.report import compose
from voicelog.report.plainly import MEANS, rounded, told_mm


@pytest.mark.parametrize(
    ("worked_out_mm", "told"),
    [(24.26, 24), (152.4, 152), (19.05, 19), (9.525, 9.5), (3.175, 3.2), (0.02, 0.02), (10, 10)],
)
def test_sizes_are_told_as_somebody_would_tell_them(worked_out_mm: float, told: float) -> None:
    """A coin, a foot and three eighths are no tenths of a millimetre; nothing becomes nothing."""
    assert told_mm(worked_out_mm) == told


def test_walls_keep_hundredths_and_shares_stay_as_they_are() -> None:
    """A gauge reads them, and a limit is decided by them."""
    read = entry(2, thickness_mm=2.032, nominal_mm=3.0378, loss_percent=33.1, size_mm=24.26)
    assert dict(rounded(read).slots) == {
        "thickness_mm": 2.03, "nominal_mm": 3.04, "loss_percent": 33.1, "size_mm": 24,
    }  # fmt: skip


def test_both_ends_of_a_range_are_rounded() -> None:
    """Half an inch to an inch."""
    told = replace(entry(2, size_mm=25.4), ranges={"size_mm": (12.7, 25.4)})
    assert rounded(told).ranges == {"size_mm": (13, 25)}


def test_every_explained_condition_is_one() -> None:
    """A misspelt name would explain nothing."""
    assert set(MEANS) <= set(CONDITIONS)


def test_a_wall_loss_and_its_reading_agree(grammar: Grammar) -> None:
    """The same thickness stands in what is the matter, in what was measured and in the loss."""
    thin = entry(
        2, zone="mid-rail", side="left", condition="thinning", thickness_mm=2.032, nominal_mm=3.048
    )
    item = compose(material(grammar, *log_of(thin))).findings[0]
    told = " ".join((item.what, *item.measured))
    assert "2.03 mm of 3.05 mm" in told
    assert "2.032" not in told


def test_what_if_tells_a_grade_that_stays(grammar: Grammar) -> None:
    """That a probe would prove a grade is no other grade."""
    scale = entry(2, zone="front-rail", side="left", condition="scale")
    item = compose(material(grammar, *log_of(scale))).findings[0]
    assert "the metal gave way under the probe: still repair, but proven" in item.could_be
