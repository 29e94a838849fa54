"""Laws of folding: it may stop and go on anywhere, entries do not disturb one another, all or nothing."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import load_grammar
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Inspection,
    Kind,
    Replace,
    Restore,
    Withdraw,
    entry_id,
)
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.grade import Grade
from voicelog.domain.recovery import LEFT_OUT
from voicelog.domain.zone import Rails
from voicelog.errors import LogFault
from voicelog.findings.ledger import Ledger, fold

SHIPPED = cache(load_grammar)
"""No fixture: whoever tells of a failure would print all of it."""

AT = "2026-01-05T08:00:00Z"
IDS = tuple(f"e{n}.1" for n in range(2, 8))
SLOTS = st.fixed_dictionaries(
    {},
    optional={
        "zone": st.sampled_from(("mid-rail", "kick-up", "shock-mount", "brake-line", "odd")),
        "side": st.sampled_from(("left", "right", "both")),
        "face": st.sampled_from(("interior", "top")),
        "condition": st.sampled_from(("hole", "surface-rust", "crack", "deformation", "thinning")),
        "probe": st.sampled_from(("firm", "dull", "soft")),
        "method": st.sampled_from(("seen", "scraped", "gauged")),
        "spoken_grade": st.sampled_from(("cosmetic", "unsafe")),
        "thickness_mm": st.floats(0.1, 10.0),
        "nominal_mm": st.floats(1.0, 10.0),
    },
)
TEXTS = st.sampled_from(("", "hole, goes right through", "surface rust", "cracked weld"))
_WORD = re.compile(r"[\w.]+")
RAILS = st.sampled_from(tuple(Rails))


@st.composite
def entries(draw: st.DrawFn, name: str) -> Entry:
    """An entry of any kind under that id."""
    kind = draw(st.sampled_from(tuple(Kind)))
    doubts = draw(st.sampled_from(((), ("unclear",))))
    return Entry(name, f"u{name[1:-2]}", AT, kind, draw(SLOTS), draw(TEXTS), doubts=doubts)


@st.composite
def changes(draw: st.DrawFn, name: str) -> Change:
    """Anything that can be done with an entry of that id."""
    amend = st.builds(
        Amend, st.just(name), SLOTS, st.sampled_from(("correction", "probe", "measure")),
        drop=st.sampled_from(((), ("side",))), kind=st.none() | st.sampled_from(Kind),
    )  # fmt: skip
    does: st.SearchStrategy[Change] = st.one_of(
        amend, amend, st.just(Withdraw(name)), st.just(Restore(name)), entries(name).map(Replace)
    )
    return draw(does)


@st.composite
def lives(draw: st.DrawFn) -> list[list[Change]]:
    """For some entries, all that becomes of each, in order."""
    names = IDS[: draw(st.integers(1, len(IDS)))]
    return [
        [Add(draw(entries(name))), *draw(st.lists(changes(name), max_size=4))] for name in names
    ]


@st.composite
def woven(draw: st.DrawFn, told: list[list[Change]]) -> list[Change]:
    """The same changes in another order, in which each entry's own are in theirs."""
    rest, made = [list(one) for one in told], list[Change]()
    while any(rest):
        at = draw(st.integers(0, len(rest) - 1))
        at = next(n % len(rest) for n in range(at, at + len(rest)) if rest[n % len(rest)])
        made.append(rest[at].pop(0))
    return made


def facts_of(told: list[Change]) -> list[Fact]:
    """One line for each, as it comes back from the disk."""
    bodies = [{"changes": json.loads(json.dumps([change_to_json(one)]))} for one in told]
    return [Fact(n, AT, float(n), "", "utterance", body) for n, body in enumerate(bodies, 2)]


def standing(inspection: Inspection) -> dict[str, Any]:
    """All that a log comes to, whatever the order in which its entries were first told of.

    One thing has an order by design: a look settles what could not be seen at its place before, and
    not what is said of that later. So gaps count where every place could be seen. Of sentences, the
    words count: two entries are named in the order in which they came.
    """
    verdict, live = inspection.verdict, inspection.live
    seen = all(finding.entry.kind is not Kind.NOT_SEEN for finding in live)
    return {
        "findings": {finding.entry.id: finding for finding in inspection.findings},
        "coverage": dict(inspection.coverage),
        "verdict": (verdict.drive, verdict.work, verdict.tier),
        "gaps": set(map(repr, inspection.gaps)) if seen else None,
        "because": {tuple(sorted(_WORD.findall(one))) for one in verdict.because} if seen else None,
    }


@given(data=st.data(), told=lives(), rails=RAILS)
@settings(max_examples=30)
def test_facts_of_different_entries_commute(
    data: st.DataObject, told: list[list[Change]], rails: Rails
) -> None:
    """What was said of one entry changes nothing of another: only each entry's own order counts."""
    one, other = (facts_of(data.draw(woven(told))) for _ in range(2))
    first = fold(one, SHIPPED().zone_map, SHIPPED().rules, rails)
    assert standing(fold(other, SHIPPED().zone_map, SHIPPED().rules, rails)) == standing(first)


@given(data=st.data(), told=lives(), rails=RAILS)
@settings(max_examples=30)
def test_folding_a_beginning_and_then_the_rest_is_folding_it_all(
    data: st.DataObject, told: list[list[Change]], rails: Rails
) -> None:
    """Wherever somebody stops to look; looking changes nothing of what comes."""
    facts = facts_of(data.draw(woven(told)))
    ledger = Ledger(SHIPPED().zone_map, SHIPPED().rules, rails)
    for cut, fact in enumerate(facts, 1):
        ledger.take(changes_of(fact))
        if data.draw(st.booleans()):
            seen = ledger.inspection()
            assert seen == fold(facts[:cut], SHIPPED().zone_map, SHIPPED().rules, rails)
    assert ledger.inspection() == fold(facts, SHIPPED().zone_map, SHIPPED().rules, rails)


@given(data=st.data(), told=lives())
@settings(max_examples=30)
def test_changes_that_do_not_fit_change_nothing_at_all(
    data: st.DataObject, told: list[list[Change]]
) -> None:
    """One of several names an entry that is not there, or adds one that is: all are refused."""
    ledger = Ledger(SHIPPED().zone_map, SHIPPED().rules, Rails.MIXED)
    ledger.take(change for one in told for change in one)
    before = ledger.inspection()
    known = [entry_id(one[0]) for one in told]
    name = data.draw(st.sampled_from(known))
    misfit = data.draw(changes("e99.9") | entries(name).map(Add))
    some = data.draw(st.lists(changes(name), max_size=3))
    some.insert(data.draw(st.integers(0, len(some))), misfit)
    for apply in (ledger.take, ledger.apply, ledger.preview):
        try:
            apply(some)
        except LogFault as fault:
            assert entry_id(misfit) in fault.message  # noqa: PT017
        else:
            raise AssertionError("it was taken in")
    assert ledger.inspection() == before


@given(data=st.data(), told=lives(), extra=st.dictionaries(st.text(), st.integers(), max_size=3))
@settings(max_examples=20)
def test_lines_and_keys_of_a_later_program_are_passed_over(
    data: st.DataObject, told: list[list[Change]], extra: dict[str, int]
) -> None:
    """Types and keys that nobody knows here, between the others: the same inspection."""
    facts = facts_of(data.draw(woven(told)))
    strange = {key: value for key, value in extra.items() if key not in ("changes", "changes_lost")}
    kind = data.draw(st.text(min_size=1).filter(lambda name: name != LEFT_OUT))
    at = data.draw(st.integers(0, len(facts)))
    more = [Fact(f.seq, f.at, f.offset_s, f.prev, f.type, {**strange, **f.body}) for f in facts]
    more.insert(at, Fact(99, AT, 99.0, "", kind, strange))
    same = fold(facts, SHIPPED().zone_map, SHIPPED().rules)
    assert fold(more, SHIPPED().zone_map, SHIPPED().rules) == same


@given(told=lives(), rails=RAILS)
@settings(max_examples=30)
def test_a_line_left_out_never_makes_a_verdict_milder(
    told: list[list[Change]], rails: Rails
) -> None:
    """Whatever else was said: what forbids driving goes on to, and nothing is free of danger."""
    facts = facts_of([change for one in told for change in one])
    gone = Fact(99, AT, 99.0, "", LEFT_OUT, {})
    whole = fold(facts, SHIPPED().zone_map, SHIPPED().rules, rails)
    lacking = fold([*facts, gone], SHIPPED().zone_map, SHIPPED().rules, rails)
    then, now = whole.verdict, lacking.verdict
    assert now.drive == ("do-not-drive" if then.drive == "do-not-drive" else "not-enough-seen")
    assert now.tier in (then.tier, "unknown")
    assert list(_unsafe(lacking)) == list(_unsafe(whole))


def _unsafe(inspection: Inspection) -> Iterator[str]:
    return (f.entry.id for f in inspection.live if f.grade is Grade.UNSAFE)
