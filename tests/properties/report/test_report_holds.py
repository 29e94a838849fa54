"""What holds for the report of any inspection: whole, inert, and vouching for nothing."""

from __future__ import annotations

import re
import string
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.fact import Fact
from voicelog.domain.slot import CONDITIONS, METHODS, PROBES, SIDES
from voicelog.domain.zone import Rails
from voicelog.export.html import report_html
from voicelog.findings.ledger import fold
from voicelog.report import Material, compose
from voicelog.runtime.advice import advice_of

NEVER = re.compile(r"\b(safe|passed|roadworthy|certified)\b|[$€£]", re.I)
NOISE = st.text(alphabet=string.ascii_letters[:3] + "<>&\"' \x00\x1b\u202e\u05d0\n{}%", max_size=40)
MAPS = ("ladder-frame", "unibody", "backbone")


@cache
def _grammar(name: str) -> Grammar:
    return load_grammar(name)


@st.composite
def logs(draw: st.DrawFn) -> tuple[Grammar, tuple[Fact, ...], Rails]:
    """A log of a few entries of any kind on one of the maps, with odd places and odd words."""
    grammar = _grammar(draw(st.sampled_from(MAPS)))
    zones = (*grammar.zone_map.zones, "moon-roof", None)
    facts = [Fact(1, "2026-03-14T08:00:00Z", 0.0, "0" * 64, "opened", {"subject": draw(NOISE)})]
    for seq in range(2, 2 + draw(st.integers(0, 8))):
        entry = draw(_entries(f"e{seq}.1", zones))
        body = {"utterance": f"u{seq}", "changes": [change_to_json(Add(entry))]}
        facts.append(Fact(seq, entry.at, float(seq), "0" * 64, "utterance", body))
    return grammar, tuple(facts), draw(st.sampled_from(Rails))


@st.composite
def _entries(draw: st.DrawFn, name: str, zones: tuple[str | None, ...]) -> Entry:
    given_slots: dict[str, Any] = {
        "zone": draw(st.sampled_from(zones)),
        "side": draw(st.sampled_from((*SIDES, None))),
        "condition": draw(st.sampled_from((*CONDITIONS, None))),
        "probe": draw(st.sampled_from((*PROBES, None, None))),
        "method": draw(st.sampled_from((*METHODS, None))),
        "face": draw(st.sampled_from(("interior", None, None))),
        "size_mm": draw(st.none() | st.floats(0.3, 3000)),
        "thickness_mm": draw(st.none() | st.floats(0.1, 15)),
        "spoken_grade": draw(st.sampled_from(("cosmetic", "unsafe", None, None))),
        "landmark": draw(st.none() | NOISE),
    }
    slots = {slot: value for slot, value in given_slots.items() if value is not None}
    doubts = tuple(draw(st.lists(NOISE.filter(bool), max_size=1)))
    return Entry(
        name, f"u{name[1:-2]}", "2026-03-14T08:05:00Z", draw(st.sampled_from(Kind)), slots, draw(NOISE),
        doubts=doubts, reason=draw(NOISE), place_assumed=draw(st.booleans()),
    )  # fmt: skip


def _material(grammar: Grammar, facts: tuple[Fact, ...], rails: Rails) -> Material:
    zone_map, rules = grammar.zone_map, grammar.rules
    inspection = fold(facts, zone_map, rules, rails)
    advice = advice_of(inspection, grammar, rails)
    return Material(facts, inspection, zone_map, rules, rails, advice=advice)


def _texts(part: object) -> Iterator[str]:
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for one in part:
            yield from _texts(one)
    elif is_dataclass(part) and not isinstance(part, type):
        for field in fields(part):
            yield from _texts(getattr(part, field.name))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(logs())
def test_every_inspection_has_a_whole_harmless_report(
    log: tuple[Grammar, tuple[Fact, ...], Rails],
) -> None:
    """Every finding is shown once; no text steers anything; none of ours promises anything."""
    grammar, facts, rails = log
    material = _material(grammar, facts, rails)
    report = compose(material)
    graded = [f for f in material.inspection.live if f.entry.kind is Kind.FINDING]
    assert sorted(item.entry for item in report.findings) == sorted(f.entry.id for f in graded)
    assert [item.number for item in report.findings] == list(range(1, len(graded) + 1))
    ranks = ["unsafe", "repair", "treat", "cosmetic"]
    order = [ranks.index(item.grade) for item in report.findings]
    assert order == sorted(order)
    assert len(report.answers) == 3
    told = list(_texts(report))
    assert all(text.isprintable() for text in told)
    assert not [text for text in told if NEVER.search(text)]
    ET.fromstring(report.plan)  # noqa: S314
    assert "<script" not in report_html(report)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(logs())
def test_page_one_is_never_longer_than_a_page(
    log: tuple[Grammar, tuple[Fact, ...], Rails],
) -> None:
    """What it shows is bounded, however much was said."""
    report = compose(_material(*log))
    assert len(report.worst) <= 5
    assert all(len(answer.because) <= 3 for answer in report.answers)
    assert all(len(line) <= 260 for answer in report.answers for line in answer.because)
    assert len(report.next_step) <= 4
    assert all(len(line) <= 160 for line in report.next_step)
    assert len(report.vehicle) <= 12
    assert all(len(row.value) <= 130 for row in (*report.vehicle, *report.conditions))
