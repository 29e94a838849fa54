"""Thickness readings that could still be taken of a finding: at each limit, and clear of it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from voicelog.domain.slot import ROTS_TO_HOLE, Slots
from voicelog.domain.zone import Zone
from voicelog.findings.facts_of import DEFAULT_LIMITS, number, wall_loss
from voicelog.findings.thickness import limits_at, loss_of, nominal_of
from voicelog.tongue import Worded, to_word, worded

_STEP_MM = 0.01
"""What a gauge shows last."""
_LEAST_MM = 0.1
"""No gauge of the trade reads thinner."""


@dataclass(frozen=True, slots=True)
class Wall:
    """A reading that could be taken.

    Args:
        said: the same as a clause.
        slots: what it would set.
        drop: what would no longer hold.
        row: those of one row that come to the same are one reading.
    """

    said: str
    slots: Slots
    drop: tuple[str, ...]
    row: str


def walls(
    slots: Slots, zone: Zone | None, limits: Mapping[str, float], *, bare: bool = True
) -> Iterator[Wall]:
    """Readings that may change a grade.

    Where no loss is known, one that is clear of all limits; then thinner ones at every limit that is
    not reached yet, from the lowest on; then thicker ones, clear of a limit that is reached, only
    where the gauge's uncertainty leaves it open.

    Args:
        slots: of the finding.
        zone: its place; None where nobody knows it.
        limits: the table's numbers.
        bare: it may be cleaned to bare metal; not so at lines and tanks.
    """
    loss, told = wall_loss(slots, zone), loss_of(slots, zone, limits)
    if told is None and slots.get("condition", "pitting") not in ROTS_TO_HOLE:
        return
    if told is not None and bare and slots.get("layer") != "metal":
        yield Wall(worded("it read the same on bare metal"), {"layer": "metal"}, (), "bare")
    open_still = told.straddles if told is not None else ()
    wall, known = _Open(slots, zone, limits, bare=bare), limits_at(zone, limits)
    if loss is None and known:
        yield wall.clear(min(known.values()))
    for name, limit in known.items():
        if (loss is None or loss < limit) and limit < 100:
            yield from wall.thinner(limit, within=name in open_still)
    for name, limit in reversed(known.items()):
        if loss is not None and loss >= limit and name in open_still:
            yield from wall.thicker(limit)


class _Open:
    """What can still be read of a wall: its thickness, what that was when new, or a share."""

    def __init__(
        self, slots: Slots, zone: Zone | None, limits: Mapping[str, float], *, bare: bool
    ) -> None:
        self._nominal_mm, _ = nominal_of(slots, zone)
        self._measured_mm = number(slots, "thickness_mm")
        self._off_mm = abs({**DEFAULT_LIMITS, **limits}["gauge_uncertainty_mm"])
        self._layer: Slots = {"layer": "metal"} if bare else {}

    def clear(self, lowest: float) -> Wall:
        """Any reading where there was none; one that reaches a limit is told beside it."""
        if self._nominal_mm is not None:
            return self._measured(self._was_measured, self._nominal_mm)
        if self._measured_mm is not None:
            new = self._new_mm(lowest) - _STEP_MM
            told = to_word("it was {new} mm or less when new, less than {limit} % lost")
            return _when_new(worded(told, new=_as_read(new), limit=f"{lowest:g}"), new)
        return self._share(self._was_measured, lowest / 2)

    def thinner(self, limit: float, *, within: bool) -> Iterator[Wall]:
        """A reading at a limit."""
        share = f"{limit:g}"
        lost = self._noted(worded("{limit} % lost", limit=share), within=within)
        if self._nominal_mm is not None:
            at = self._left_mm(limit)
            if at >= _LEAST_MM:
                told = (
                    to_word("bare metal measured {at} mm or less, {lost}")
                    if self._layer
                    else to_word("its wall measured {at} mm or less, {lost}")
                )
                yield self._measured(worded(told, at=f"{at:g}", lost=lost), at)
        elif self._measured_mm is not None:
            new = self._new_mm(limit)
            told = to_word("it was {new} mm or more when new, {lost}")
            yield _when_new(worded(told, new=_as_read(new), lost=lost), new)
        else:
            told = (
                to_word("{limit} % or more of the wall was measured to be lost, on bare metal")
                if self._layer
                else to_word("{limit} % or more of the wall was measured to be lost")
            )
            yield self._share(worded(told, limit=share), limit)

    def thicker(self, limit: float) -> Iterator[Wall]:
        """A reading clear of a limit that the gauge leaves open."""
        if self._nominal_mm is not None:
            clear = round(self._left_mm(limit) + _STEP_MM, 2)
            told = (
                to_word("bare metal measured {at} mm or more, less than {limit} % lost")
                if self._layer
                else to_word("its wall measured {at} mm or more, less than {limit} % lost")
            )
            said = worded(told, at=f"{clear:g}", limit=f"{limit:g}")
            yield self._measured(self._noted(said, within=True), clear)

    @property
    def _was_measured(self) -> Worded:
        return worded("bare metal was measured") if self._layer else worded("its wall was measured")

    def _noted(self, said: Worded, *, within: bool) -> Worded:
        """With what the gauge leaves open, where it does."""
        if not within:
            return said
        off = f"{self._off_mm:g}"
        return worded("{said}, which lies within the gauge's ±{off} mm", said=said, off=off)

    def _left_mm(self, limit: float) -> float:
        """What is left of the wall at a limit, down to what a gauge can show."""
        left = (self._nominal_mm or 0.0) * (1 - limit / 100)
        return round(math.floor(left / _STEP_MM + 1e-6) * _STEP_MM, 2)

    def _new_mm(self, limit: float) -> float:
        """What the wall was when new if this is left at a limit, up to what a gauge can show."""
        new = (self._measured_mm or 0.0) / (1 - limit / 100)
        return math.ceil(new / _STEP_MM - 1e-6) * _STEP_MM

    def _measured(self, said: str, at_mm: float) -> Wall:
        slots = {"thickness_mm": at_mm, **self._layer}
        return Wall(said, slots, ("loss_percent",), "wall")

    def _share(self, said: str, percent: float) -> Wall:
        slots = {"loss_percent": percent, **self._layer}
        return Wall(said, slots, (), "wall")


def _when_new(said: str, new_mm: float) -> Wall:
    return Wall(said, {"nominal_mm": round(new_mm, 2)}, ("loss_percent",), "wall")


def _as_read(mm: float) -> str:
    return f"{round(mm, 2):g}"
