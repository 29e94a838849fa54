"""Published scales for rust and wastage: what a share of rusted surface or lost wall is called.

The coating scales rate the coating alone. They say nothing of the steel under it and are never
shown beside a verdict.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

D610_LIMITS = (
    (0.01, 10),
    (0.03, 9),
    (0.1, 8),
    (0.3, 7),
    (1.0, 6),
    (3.0, 5),
    (10.0, 4),
    (16.0, 3),
    (33.0, 2),
    (50.0, 1),
)
"""Largest rusted share in percent of each rust grade, beyond the last 0. ASTM D610, Table 1."""

RI_ANCHORS: Mapping[int, tuple[float, float]] = {
    0: (0.0, 0.0),
    1: (0.05, 0.05),
    2: (0.5, 0.5),
    3: (1.0, 1.0),
    4: (8.0, 8.0),
    5: (40.0, 50.0),
}
"""Rusted share in percent, from and to, shown by the pictures of ISO 4628-3."""


class CoatingCondition(StrEnum):
    """Coating condition of IMO MSC.1/Circ.1330, section 4.1; later ones are worse."""

    GOOD = "GOOD"
    FAIR = "FAIR"
    POOR = "POOR"


@dataclass(frozen=True, slots=True)
class CoatingRating:
    """A rusted share of a coated surface on three scales.

    Args:
        d610: ASTM D610 rust grade, 10 (no rust to speak of) to 0.
        ri: nearest ISO 4628-3 degree of rusting, 0 to 5.
        imo: IMO coating condition, from the rusted share alone.
        approximate: always true: a share told by eye, and pictures rather than bands behind ``ri``.
        rusted_percent: the share that was rated; None where only a grade is known.
    """

    d610: int
    ri: int
    imo: CoatingCondition
    approximate: bool = True
    rusted_percent: float | None = field(default=None, compare=False)


def coating_rating(rusted_percent: float) -> CoatingRating:
    """The share on all three scales.

    Raises:
        ValueError: outside 0 to 100.
    """
    return CoatingRating(
        d610_grade(rusted_percent),
        nearest_ri(rusted_percent),
        imo_condition(rusted_percent),
        rusted_percent=rusted_percent,
    )


def d610_grade(rusted_percent: float) -> int:
    """ASTM D610 rust grade of a rusted share; each band excludes its lower limit.

    Raises:
        ValueError: outside 0 to 100.
    """
    share = _percent(rusted_percent)
    return next((grade for limit, grade in D610_LIMITS if share <= limit), 0)


def nearest_ri(rusted_percent: float) -> int:
    """The ISO 4628-3 picture nearest to a rusted share; only approximate, for they are not bands.

    Any rust at all is at least Ri 1, and half way between two pictures the worse counts.

    Raises:
        ValueError: outside 0 to 100.
    """
    share = _percent(rusted_percent)
    if share == 0:
        return 0
    rusty = (ri for ri in RI_ANCHORS if ri > 0)
    return min(rusty, key=lambda ri: (round(_distance(share, RI_ANCHORS[ri]), 9), -ri))


def imo_condition(
    rusted_percent: float, *, scale_percent: float = 0.0, edges_percent: float = 0.0
) -> CoatingCondition:
    """IMO coating condition (MSC.1/Circ.1330, section 4.1, Table 1): the worst of three measures.

    At exactly 10 % of hard scale the circular's text and its table disagree; the table counts.

    Args:
        rusted_percent: coating breakdown or rust, share of the area looked at.
        scale_percent: hard rust scale, share of the same area.
        edges_percent: breakdown or rust on edges and weld lines, share of their length.

    Raises:
        ValueError: a share outside 0 to 100.
    """
    rusted, scale, edges = map(_percent, (rusted_percent, scale_percent, edges_percent))
    if rusted > 20 or scale >= 10 or edges > 50:
        return CoatingCondition.POOR
    if rusted >= 3 or scale > 0 or edges >= 20:
        return CoatingCondition.FAIR
    return CoatingCondition.GOOD


def wall_loss_percent(nominal_mm: float, measured_mm: float) -> float:
    """Lost wall in percent of the nominal thickness; negative when it is over nominal.

    It is not clipped: new plate may be thicker than its name (NVIC 7-68, reprinted in US Army
    TB 55-1900-201-45/1, E-11).

    Raises:
        ValueError: a nominal thickness that is not above zero, or a negative reading.
    """
    if not nominal_mm > 0 or not measured_mm >= 0:
        raise ValueError(f"no loss from {measured_mm} mm of {nominal_mm} mm")
    return 100 * (nominal_mm - measured_mm) / nominal_mm


def _distance(share: float, anchor: tuple[float, float]) -> float:
    """How far a share lies outside what a picture shows; 0 inside."""
    return max(anchor[0] - share, share - anchor[1], 0.0)


def _percent(share: float) -> float:
    if not 0 <= share <= 100:
        raise ValueError(f"{share} is no share of a surface: 0 to 100 percent")
    return share
