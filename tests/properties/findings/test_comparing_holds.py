"""What holds for any two logs that are compared."""

from __future__ import annotations

from collections import Counter
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar
from voicelog.domain.comparison import CHANGES, Comparison, Inspected
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import Ledger
from voicelog.findings.over_time.compare import compare
from voicelog.findings.over_time.match import against, matched
from voicelog.findings.over_time.spots import Spot, spots

SLOTS = st.fixed_dictionaries(
    {},
    optional={
        "zone": st.sampled_from(("mid-rail", "kick-up", "cab-mount", "tow-hitch", "odd")),
        "side": st.sampled_from(("left", "right", "both", "centre")),
        "ordinal": st.sampled_from((1, 2)),
        "face": st.sampled_from(("interior", "top")),
        "method": st.sampled_from(("scoped", "probed")),
        "condition": st.sampled_from(
            ("hole", "surface-rust", "thinning", "debris", "crack", "old-repair", "recoated")
        ),
        "probe": st.sampled_from(("firm", "soft")),
        "size_mm": st.sampled_from((5.0, 20.0, 21.0, 80.0)),
        "thickness_mm": st.sampled_from((2.0, 2.5, 3.0)),
        "landmark": st.sampled_from(("by the hanger", "by the mount")),
    },
)
SAID = st.lists(st.tuples(st.sampled_from(tuple(Kind)), SLOTS, st.booleans()), max_size=10)
Said = list[tuple[Kind, dict[str, Any], bool]]


def inspected(said: Said, grammar: Grammar, name: str, year: int) -> Inspected:
    """A log in which this was said, in a year."""
    at = f"{year}-01-05T08:00:00Z"
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
    for n, (kind, slots, doubtful) in enumerate(said, 1):
        doubts = ("unclear",) if doubtful else ()
        ledger.take([Add(Entry(f"e{n}.1", f"u{n}", at, kind, slots, doubts=doubts))])
    return Inspected(name, at, ledger.inspection(), grammar.zone_map, grammar.rules, subject="one")


def sides(one: Inspected) -> Counter[str]:
    """Every finding that holds, with the number of its sides."""
    findings = (f.entry for f in one.inspection.live if f.entry.kind is Kind.FINDING)
    return Counter({e.id: len(_parts(str(e.slots.get("side", "")))) for e in findings})


def told(comparison: Comparison, one: Inspected, *, newer: bool) -> Counter[str]:
    """How often the comparison tells of each finding of one of the logs; of both sides is twice."""
    own, found = sides(one), Counter[str]()
    for difference in comparison.differences:
        for name in difference.newer if newer else difference.older:
            if name in own:
                found[name] += len(_parts(difference.side or ""))
    return found


def _parts(side: str) -> tuple[str, ...]:
    return ("left", "right") if side == "both" else (side,)


@given(said=SAID)
@settings(max_examples=60)
def test_a_log_compared_with_itself_is_the_same(said: Said, grammar: Grammar) -> None:
    """Whatever it holds, however often one thing was said."""
    one = inspected(said, grammar, "a", 2026)
    comparison = compare(one, one)
    assert set(comparison.counts()) <= {"same"}
    assert all(d.older == d.newer and d.rate is None for d in comparison.differences)


@given(then=SAID, now=SAID)
@settings(max_examples=150)
def test_every_finding_is_told_once(then: Said, now: Said, grammar: Grammar) -> None:
    """Nothing is lost between two logs, and nothing counts twice."""
    older, newer = inspected(then, grammar, "a", 2026), inspected(now, grammar, "b", 2027)
    comparison = compare(older, newer)
    assert told(comparison, newer, newer=True) == sides(newer)
    assert told(comparison, older, newer=False) == sides(older)


@given(then=SAID, now=SAID)
@settings(max_examples=100)
def test_turned_round_what_is_new_is_what_was_left(then: Said, now: Said, grammar: Grammar) -> None:
    """As many have no counterpart in either direction, place by place; which goes with which costs
    the same.
    """
    older, newer = (spots(inspected(said, grammar, "a", 2026).inspection) for said in (then, now))
    there, back = matched(older, newer), matched(newer, older)
    assert _zones(there.only_older) == _zones(back.only_newer)
    assert _zones(there.only_newer) == _zones(back.only_older)
    assert len(there.pairs) == len(back.pairs)
    assert sum(against(*pair) or 0 for pair in there.pairs) == sum(
        against(*pair) or 0 for pair in back.pairs
    )


def _zones(them: tuple[Spot, ...]) -> Counter[str]:
    return Counter(spot.where.zone for spot in them)


@given(then=SAID, now=SAID)
@settings(max_examples=60)
def test_what_is_told_can_be_read(then: Said, now: Said, grammar: Grammar) -> None:
    """Known changes, one printable sentence each, the same every time."""
    older, newer = inspected(then, grammar, "a", 2026), inspected(now, grammar, "b", 2027)
    comparison = compare(older, newer)
    assert comparison == compare(older, newer)
    for difference in comparison.differences:
        assert difference.change in CHANGES
        assert difference.text.isprintable()
        assert difference.text.endswith(".")
        assert "None" not in difference.text
