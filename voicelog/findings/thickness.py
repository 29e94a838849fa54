"""Wall loss and how well it is known: a gauge reads true only to some tenths of a millimetre."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.domain.advice import WallLoss
from voicelog.domain.rating import wall_loss_percent
from voicelog.domain.slot import Slots
from voicelog.domain.told_length import told_number
from voicelog.domain.zone import Role, Zone
from voicelog.findings.facts_of import DEFAULT_LIMITS, lost_percent, number, wall_loss
from voicelog.tongue import joined, worded

_ONLY_AT: Mapping[str, Role] = {
    "pipe_wall_loss_percent": Role.FLUID_LINE,
    "wall_loss_critical_percent": Role.CRITICAL,
}
"""Limits that matter at places of one role only."""

_ROUNDED = 0.05
"""Half of the last digit of a loss that was told with one decimal."""


def loss_of(slots: Slots, zone: Zone | None, limits: Mapping[str, float]) -> WallLoss | None:
    """The wall loss that the rules use, and between what it lies; None where none is known.

    The reading may be off by the limit ``gauge_uncertainty_mm`` (0.1 mm as shipped: common practice,
    no source). The nominal thickness is taken as it was said: what is not known of it, as the rolling
    tolerance of the sheet, is not in the range. Nor is a share that was only said given one.

    Args:
        slots: of a finding.
        zone: its place, for the map's nominal thickness; None where nobody knows it.
        limits: the severity table's numbers.
    """
    percent = wall_loss(slots, zone)
    if percent is None:
        return None
    measured = number(slots, "thickness_mm")
    nominal, source = nominal_of(slots, zone)
    computed = lost_percent(measured, nominal)
    if measured is None or nominal is None or computed is None or percent - computed > _ROUNDED:
        return WallLoss(percent, percent, percent)
    off = abs({**DEFAULT_LIMITS, **limits}["gauge_uncertainty_mm"])
    low = round(wall_loss_percent(nominal, measured + off), 6)
    high = round(wall_loss_percent(nominal, max(measured - off, 0.0)), 6)
    within = tuple(n for n, limit in limits_at(zone, limits).items() if low < limit <= high)
    return WallLoss(computed, low, high, measured, nominal, source, off, within)


def limits_at(zone: Zone | None, limits: Mapping[str, float]) -> dict[str, float]:
    """The table's wall-loss limits that matter at a place, the lowest first.

    They are those with ``wall_loss`` in their names.
    """
    role = zone.role if zone is not None else Role.LOAD_PATH
    known = sorted({**DEFAULT_LIMITS, **limits}.items(), key=lambda item: item[1])
    return {
        name: limit
        for name, limit in known
        if "wall_loss" in name and _ONLY_AT.get(name, role) is role
    }


def nominal_of(slots: Slots, zone: Zone | None) -> tuple[float | None, str]:
    """The thickness when new and who says so: what was said counts before the map."""
    said = number(slots, "nominal_mm")
    if said is not None and said > 0:
        return said, "said"
    return (zone.nominal_mm, "map") if zone is not None else (None, "")


def loss_in_words(loss: WallLoss, limits: Mapping[str, float]) -> str:
    """How much is gone and how well that is known, as one sentence.

    Args:
        loss: as :func:`loss_of` gives it.
        limits: the severity table's numbers.
    """
    if loss.measured_mm is None or loss.nominal_mm is None:
        return worded("{percent} % of the wall is said to be lost.", percent=f"{loss.percent:.1f}")
    read = worded(
        "{measured} mm of {nominal} mm",
        measured=f"{told_number(loss.measured_mm, 'thickness_mm'):g}",
        nominal=f"{told_number(loss.nominal_mm, 'nominal_mm'):g}",
    )
    if loss.nominal_from == "map":
        read = worded("{reading} (nominal by the map)", reading=read)
    told = _over(loss, read) if loss.percent < 0 else _gone(loss, read)
    if not loss.straddles:
        return told
    known = {**DEFAULT_LIMITS, **limits}
    limits_told = joined(worded(" and of "), [f"{known[name]:g} %" for name in loss.straddles])
    undecided = worded(
        "The reading does not decide the limit of {limits}: measure again.", limits=limits_told
    )
    return joined(" ", (told, undecided))


def _over(loss: WallLoss, read: str) -> str:
    """More metal than there was when new: no loss, and no wall either."""
    return worded(
        "{reading}: {percent} % over nominal, so one of the two numbers is off, or coating or rust "
        "was measured too.",
        reading=read,
        percent=f"{-loss.percent:.1f}",
    )


def _gone(loss: WallLoss, read: str) -> str:
    return worded(
        "{reading}: {percent} % of the wall lost, {low} to {high} % within the gauge's ±{off} mm.",
        reading=read,
        percent=f"{loss.percent:.1f}",
        low=f"{loss.low:.1f}",
        high=f"{loss.high:.1f}",
        off=f"{loss.uncertainty_mm:g}",
    )
