"""A spoken length as it is told again: on screens, in lists, read back, in the report.

Journals and documents keep the number that was worked out. A coin is 24 mm across and no 24.26,
for nobody laid a caliper to the hole.
"""

from __future__ import annotations

from decimal import ROUND_FLOOR, Context, Decimal
from math import isfinite

_WHOLE_FROM_MM = 10
"""From here on tenths of a millimetre are nothing that anybody saw."""
_ANY_SIZE = Context(prec=400)
"""Digits for whatever a number can be, however absurd."""


def told_number(value: float, slot: str) -> float:
    """A number as it is told: lengths rounded, all else as it is.

    Walls keep the hundredths that a gauge shows, and what is left of one is never rounded up: no
    more metal is told than there is. Other lengths keep tenths; from ten millimetres on none but a
    half, which only somebody who said it gives; below one hundredths, so that nothing becomes
    nothing.

    Args:
        value: in the unit of its slot.
        slot: its name; that of a length ends in ``_mm``.
    """
    if not slot.endswith("_mm") or not isfinite(value):
        return value
    if slot == "thickness_mm":
        return float(Decimal(str(value)).quantize(Decimal("0.01"), ROUND_FLOOR, _ANY_SIZE))
    if slot == "nominal_mm" or abs(value) < 1:
        return round(value, 2) or value
    if abs(value) < _WHOLE_FROM_MM:
        return round(value, 1)
    return value if value % 1 == 1 / 2 else round(value, 0)
