"""Values as they are handed over: finite numbers, closed lists kept, text that is Unicode."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from typing import Any, overload

from voicelog.domain.slot import SLOTS, Ranges, Slots, SlotValue, Spec
from voicelog.tongue import english_of

LARGEST = 1_000_000
"""No number handed over is further from zero: one kilometre, in millimetres."""

UNPLACED = "unplaced"
"""Stands for a zone that is not known, or that the contract has no room for."""

DECIMALS = 4
"""Numbers are rounded to this many decimals: a tenth of a micrometre."""

_HALF = re.compile("[\ud800-\udfff]")
_NAME = re.compile(r"[a-z]+(-[a-z]+)*")
_LOWEST = {"length": 0, "percent": -LARGEST, "count": 0}


def known(told: Mapping[str, Any]) -> dict[str, Any]:
    """What is told, without what nothing is known of: a document never says null."""
    return {name: value for name, value in told.items() if value is not None}


def clean(text: str) -> str:
    """The text in English, with every surrogate replaced by U+FFFD; all else is kept as it is.

    A surrogate is half a character: JSON can spell it, but strict readers refuse the document.
    """
    return _HALF.sub("\ufffd", english_of(text))


def texts(several: Iterable[str]) -> list[str]:
    """The texts, each as :func:`clean` leaves it."""
    return [clean(text) for text in several]


@overload
def rounded(number: float) -> float: ...
@overload
def rounded(number: float | None) -> float | None: ...
def rounded(number: float | None) -> float | None:
    """The number as it is handed over; None stays None."""
    return None if number is None else round(float(number), DECIMALS) + 0.0  # -0.0 becomes 0.0


def plain(value: object) -> Any:
    """The value as JSON can hold it: non-finite numbers become null, other objects their text."""
    match value:
        case None | bool() | int():
            return value
        case float():
            return value if math.isfinite(value) else None
        case str():
            return clean(value)
        case Mapping():
            return {clean(str(key)): plain(item) for key, item in value.items()}
        case list() | tuple():
            return [plain(item) for item in value]
        case _:
            return clean(str(value))


def slots_to_json(slots: Slots) -> tuple[dict[str, SlotValue], tuple[str, ...]]:
    """Sorts out what the contract can carry.

    Args:
        slots: as an entry has them; empty text counts as unknown.

    Returns:
        The slots in the contract's order, loss worked out where both thicknesses are known, and
        the names of those whose value the contract has no room for.
    """
    given = {name: value for name, value in slots.items() if value != ""}
    kept = {
        name: _published(spec, given[name])
        for name, spec in SLOTS.items()
        if name in given and _fits(spec, given[name])
    }
    lost = tuple(clean(name) for name in given if name not in kept)
    worked_out = {} if "loss_percent" in given else _loss(kept)
    return _in_order(kept | worked_out), lost


def word_to_json(name: str, value: str | None) -> str | None:
    """A slot's word where the contract has room for it; None where it has not, or there is none.

    Args:
        name: the slot's.
        value: as an entry of any log may have it.
    """
    return value if value and _fits(SLOTS[name], value) else None


def ranges_to_json(ranges: Ranges) -> dict[str, list[float]]:
    """Both ends of each slot said as a range, lower first, as far as the contract can carry them."""
    return {
        name: [float(_published(SLOTS[name], end)) for end in sorted(ends)]
        for name, ends in ranges.items()
        if name in SLOTS and all(_fits(SLOTS[name], end) for end in ends)
    }


def _fits(spec: Spec, value: object) -> bool:
    """True when the contract can carry the value; its plausible bounds do not matter here."""
    match value:
        case bool():
            return False
        case int() | float():
            return _in_range(spec.kind, value)
        case str():
            return _is_listed(spec, value)
        case _:
            return False


def _in_range(kind: str, value: float) -> bool:
    """True for a number the contract has room for; a comparison with NaN is never true."""
    low = _LOWEST.get(kind)
    if low is None or not low <= value <= LARGEST:
        return False
    return kind != "count" or value == int(value)


def _is_listed(spec: Spec, value: str) -> bool:
    """True for a word of a closed list, a well-formed name, or any text in a slot of text."""
    if spec.kind == "word":
        return value in spec.choices
    return spec.kind == "text" or (spec.kind == "name" and _NAME.fullmatch(value) is not None)


def _published(spec: Spec, value: SlotValue) -> SlotValue:
    if isinstance(value, str):
        return clean(value)
    if spec.kind == "count":
        return int(value)
    return rounded(float(value))


def _loss(slots: Slots) -> dict[str, SlotValue]:
    """Share of the nominal thickness that is gone, in percent; negative when it reads thicker."""
    measured, nominal = slots.get("thickness_mm"), slots.get("nominal_mm")
    if not isinstance(measured, float) or not isinstance(nominal, float):
        return {}
    if nominal <= 0 or measured > nominal * (LARGEST / 100):
        return {}
    return {"loss_percent": round((nominal - measured) / nominal * 100, 1) + 0.0}


def _in_order(slots: Slots) -> dict[str, SlotValue]:
    return {name: slots[name] for name in SLOTS if name in slots}
