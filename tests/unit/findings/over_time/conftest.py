"""Two small logs of one vehicle, a year apart, and what comparing them gives."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import count
from typing import Any

import pytest

from voicelog.domain.comparison import Comparison, Inspected
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.grade import RuleSet
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.findings.ledger import Ledger
from voicelog.findings.over_time.compare import compare

Said = dict[str, Any]
"""Slots of an entry, and what else it has: ``kind``, ``doubts``, ``reason``."""

DAYS = {"older": "2026-01-05", "newer": "2027-01-05"}
_OWN = ("kind", "doubts", "reason", "ranges")


@pytest.fixture
def inspected(zone_map: ZoneMap, rules: RuleSet) -> Callable[..., Inspected]:
    """Makes an inspection out of what was said; its entries are e1.1, e2.1, …"""

    def make(*said: Said, which: str = "older", day: str = "", **given: Any) -> Inspected:
        numbers = count(1)
        at = f"{day or DAYS[which]}T08:00:00Z"
        zones = given.pop("zone_map", zone_map)
        table, rails = given.pop("rules", rules), given.pop("rails", Rails.OPEN)
        ledger = Ledger(zones, table, rails)
        ledger.apply(Add(_entry(next(numbers), at, one)) for one in said)
        known = {"subject": "pickup 12", "vin": "", **given}
        return Inspected(which, at, ledger.inspection(), zones, table, rails, **known)

    return make


def _entry(n: int, at: str, said: Said) -> Entry:
    own = {name: said[name] for name in _OWN if name in said}
    slots = {name: value for name, value in said.items() if name not in _OWN}
    kind = own.pop("kind", Kind.FINDING)
    return Entry(f"e{n}.1", f"u{n}", at, kind, slots, **own)


@pytest.fixture
def became(inspected: Callable[..., Inspected]) -> Callable[..., Comparison]:
    """What became of what was said then, by what was said now."""

    def of(then: list[Said], now: list[Said], **newer: Any) -> Comparison:
        return compare(inspected(*then), inspected(*now, which="newer", **newer))

    return of


@pytest.fixture
def table(rules: RuleSet) -> Callable[..., RuleSet]:
    """The shipped table with other limits."""
    return lambda **limits: replace(rules, limits={**rules.limits, **limits})
