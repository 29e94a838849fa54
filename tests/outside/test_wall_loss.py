"""Lost wall against figures in open documents.

Sources: US Army TB 55-1900-201-45/1, appendix E, which reprints US Coast Guard NVIC 7-68 (1968);
IMO 2011 ESP Code, annex A part B, 8.2; UK MOT inspection manual (DVSA, GOV.UK), 1.1.11.
"""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Add, Entry, Finding, Kind
from voicelog.domain.rating import wall_loss_percent
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import Ledger
from voicelog.findings.thickness import loss_of

INCH_MM = 25.4


def _read(zone: str, nominal_mm: float, measured_mm: float) -> Finding:
    """The finding of a reading on bare metal."""
    grammar = load_grammar()
    slots = {"zone": zone, "condition": "thinning", "layer": "metal"}
    slots |= {"nominal_mm": nominal_mm, "thickness_mm": measured_mm}
    entry = Entry("e1.1", "u1", "2024-01-01T00:00:00Z", Kind.FINDING, slots)
    (finding,) = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED).apply([Add(entry)])
    return finding


@pytest.mark.parametrize(
    ("nominal_in", "measured_in", "loss_percent"),
    [(0.1875, 0.1406, 25.0), (0.1196, 0.090, 24.7), (0.375, 0.31875, 15.0)],
)
def test_loss_of_plate(nominal_in: float, measured_in: float, loss_percent: float) -> None:
    """The general limit of 25 %, 11 gauge sheet at 0.090 in, and the light-hull limit of 15 %."""
    loss = wall_loss_percent(nominal_in * INCH_MM, measured_in * INCH_MM)
    assert round(loss, 1) == loss_percent


def test_new_plate_over_its_nominal_thickness() -> None:
    """E-11: 3/16 in plate may measure 0.205 in; that is a gain and is told as one."""
    loss = wall_loss_percent(0.1875 * INCH_MM, 0.205 * INCH_MM)
    assert round(loss, 1) == -9.3


def test_seventy_percent_remaining_is_thirty_percent_lost() -> None:
    """ESP Code 8.2 states what remains, the tool what is lost."""
    assert wall_loss_percent(10.0, 7.0) == pytest.approx(30.0)


def test_a_third_of_a_brake_pipes_wall() -> None:
    """MOT manual 1.1.11: reject at one third, about 0.25 mm; of a 0.75 mm wall that leaves 0.50."""
    assert wall_loss_percent(0.75, 0.75 - 0.25) == pytest.approx(100 / 3)
    assert wall_loss_percent(0.75, 0.51) < 100 / 3


@pytest.mark.parametrize(
    ("zone", "measured_mm", "grade"),
    [
        ("mid-rail", 7.51, "treat"),
        ("mid-rail", 7.50, "repair"),
        ("shock-mount", 8.51, "treat"),
        ("shock-mount", 8.50, "unsafe"),
    ],
)
def test_the_published_figures_are_the_shipped_limits(
    zone: str, measured_mm: float, grade: str
) -> None:
    """Of 10 mm: 25 % is the general figure of 2-2a, 15 % that of lightly built hulls of E-12, which
    the tool takes for critical mountings. The figures are the bulletin's, the grades the tool's own.
    """
    assert _read(zone, 10.0, measured_mm).grade == grade


@pytest.mark.parametrize(("measured_mm", "grade"), [(0.50, "unsafe"), (0.51, "repair")])
def test_a_brake_pipe_is_unsafe_from_one_third_on(measured_mm: float, grade: str) -> None:
    """MOT manual 1.1.11: 0.75 mm pipe at 0.50 mm has lost a third; at 0.51 mm it has not."""
    assert _read("brake-line", 0.75, measured_mm).grade == grade


def test_a_hand_gauge_cannot_tell_a_third_of_a_pipe_from_a_fifth() -> None:
    """A tenth of a millimetre is 13 % of a 0.75 mm wall: the reading says how little it decides."""
    finding = _read("brake-line", 0.75, 0.51)
    grammar = load_grammar()
    loss = loss_of(finding.entry.slots, grammar.zone_map["brake-line"], grammar.rules.limits)
    assert loss is not None
    assert loss.low < 20 < 100 / 3 < loss.high
    assert "pipe_wall_loss_percent" in loss.straddles


def test_no_road_rule_is_named_for_a_share_of_wall() -> None:
    """49 CFR 393.201 gives no rust figure at all, and the MOT manual only that of a pipe."""
    for rule in load_grammar().rules.rules:
        if "loss_at_least" in rule.when:
            assert "CFR" not in rule.source, rule.id
            assert "1.1.11" not in rule.source or rule.when["role"] == ("fluid-line",), rule.id
