"""How fast a wall gets thinner, from two readings of one place."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import datetime

from voicelog.domain.comparison import Inspected, Rate
from voicelog.domain.zone import Role
from voicelog.findings.facts_of import DEFAULT_LIMITS, known_zone, number
from voicelog.findings.over_time.spots import Spot
from voicelog.tongue import worded

DAYS_OF_A_YEAR = 365.25
LEAST_DAYS = 30.0
"""Readings nearer to each other give no rate: a gauge's uncertainty over days is any rate at all.
Ours."""
_LIMIT_AT: Mapping[Role, str] = {
    Role.CRITICAL: "wall_loss_critical_percent",
    Role.FLUID_LINE: "pipe_wall_loss_percent",
}
"""Wall-loss limits of places of one role; elsewhere ``wall_loss_percent`` counts."""


def gauge_mm(inspected: Inspected) -> float:
    """What the gauge of an inspection may be off, plus or minus, in mm."""
    return abs({**DEFAULT_LIMITS, **inspected.rules.limits}["gauge_uncertainty_mm"])


def years_between(older_at: str, newer_at: str) -> float | None:
    """Years of 365.25 days from one RFC 3339 time to another; None where one cannot be read."""
    try:
        apart = datetime.fromisoformat(newer_at) - datetime.fromisoformat(older_at)
    except (TypeError, ValueError):
        return None
    return apart.total_seconds() / 86_400 / DAYS_OF_A_YEAR


def rate_between(then: Spot, now: Spot, older: Inspected, newer: Inspected) -> Rate | None:
    """The rate of wall loss at a spot that both logs read the thickness of; None where
    :func:`no_rate` says why, and where a reading is missing.
    """
    was, is_now = (number(spot.slots, "thickness_mm") for spot in (then, now))
    years = years_between(then.finding.entry.at, now.finding.entry.at)
    if was is None or is_now is None or years is None or no_rate(then, now):
        return None
    gauges = gauge_mm(older), gauge_mm(newer)
    return rate_of(was, is_now, years, gauges, _least_wall_mm(then, now, newer))


def no_rate(then: Spot, now: Spot) -> str:
    """Why two readings of a thickness give no rate, as part of a sentence; empty where they do, or
    where one of them is missing.
    """
    if any(number(spot.slots, "thickness_mm") is None for spot in (then, now)):
        return ""
    if then.finding.entry.doubtful or now.finding.entry.doubtful:
        return worded("a thickness may have been misheard, so no rate is worked out")
    if then.where.side != now.where.side:
        return worded("it is not sure that one wall was read twice, so no rate is worked out")
    years = years_between(then.finding.entry.at, now.finding.entry.at)
    if years is None or years * DAYS_OF_A_YEAR < LEAST_DAYS:
        return worded(
            "less than {days} days lie between the readings, too few for a rate",
            days=f"{LEAST_DAYS:g}",
        )
    return ""


def rate_of(
    older_mm: float,
    newer_mm: float,
    years: float,
    uncertainty_mm: tuple[float, float],
    least_mm: float | None = None,
) -> Rate:
    """The arithmetic: what was lost, by the years between, and what is left until a limit.

    ``(previous - present) / years`` and ``(present - least) / rate`` are the formulas of API 510,
    570 and 653, as reports in public files quote them (``tests/outside/test_corrosion_rate.py``).
    The uncertainties are bounds, so they add up.

    Args:
        older_mm: thickness then.
        newer_mm: thickness now.
        years: between them, more than 0.
        uncertainty_mm: of the older and of the newer reading, plus or minus.
        least_mm: the wall at which the limit is reached.
    """
    rate, doubt = (older_mm - newer_mm) / years, sum(uncertainty_mm) / years
    plain = Rate(older_mm, newer_mm, years, rate, doubt)
    if least_mm is None or not plain.is_loss:
        return plain
    left = max(0.0, newer_mm - least_mm) / rate
    least = max(0.0, newer_mm - uncertainty_mm[1] - least_mm) / (rate + doubt)
    return Rate(older_mm, newer_mm, years, rate, doubt, left, least)


def _least_wall_mm(then: Spot, now: Spot, newer: Inspected) -> float | None:
    """The wall at which the newer rules' limit is reached; None where the nominal is not known."""
    zone = known_zone(now.slots, newer.zone_map)
    said = (number(spot.slots, "nominal_mm") for spot in (now, then))
    nominal = next((mm for mm in (*said, zone.nominal_mm if zone else None) if mm), None)
    if nominal is None or not math.isfinite(nominal) or nominal <= 0:
        return None
    return nominal * (1 - _limit_percent(now, newer) / 100)


def _limit_percent(now: Spot, newer: Inspected) -> float:
    """The wall-loss limit that counts at the spot, of the newer rules."""
    limits = {**DEFAULT_LIMITS, **newer.rules.limits}
    zone = known_zone(now.slots, newer.zone_map)
    own = _LIMIT_AT.get(zone.role, "") if zone is not None else ""
    return limits.get(own, limits["wall_loss_percent"])
