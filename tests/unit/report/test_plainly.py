"""What the trade says, for somebody who has never seen a frame."""

from __future__ import annotations

from inspected import entry, log_of, material

from voicelog.config.grammar import Grammar
from voicelog.domain.slot import CONDITIONS
from voicelog.report import compose
from voicelog.report.plainly import MEANS


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
