"""What holds for any log: folding, coverage and verdict."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Add, Amend, Change, Entry, Inspection, Kind, Withdraw
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Grade
from voicelog.domain.zone import Rails
from voicelog.findings.grading import worst_said
from voicelog.findings.ledger import Ledger, fold

SLOTS = st.fixed_dictionaries(
    {},
    optional={
        "zone": st.sampled_from(("mid-rail", "kick-up", "shock-mount", "brake-line", "odd")),
        "side": st.sampled_from(("left", "right", "both", "centre")),
        "face": st.sampled_from(("interior", "top")),
        "condition": st.sampled_from(("hole", "surface-rust", "debris", "crack", "deformation")),
        "probe": st.sampled_from(("firm", "dull", "soft")),
        "surround": st.sampled_from(("firm", "none")),
        "spoken_grade": st.sampled_from(("cosmetic", "unsafe")),
        "thickness_mm": st.floats(0.1, 10.0),
        "nominal_mm": st.floats(1.0, 10.0),
    },
)
RAILS = st.sampled_from(tuple(Rails))


@st.composite
def logs(draw: st.DrawFn) -> list[list[Change]]:
    """The changes of up to a dozen utterances, each fitting what came before."""
    utterances: list[list[Change]] = []
    ids: list[str] = []
    for n in range(1, draw(st.integers(0, 12)) + 1):
        changes = [_change(draw, n, part, ids) for part in range(1, draw(st.integers(1, 3)) + 1)]
        utterances.append(changes)
    return utterances


def _change(draw: st.DrawFn, n: int, part: int, ids: list[str]) -> Change:
    does = draw(st.sampled_from(("add", "add", "amend", "withdraw"))) if ids else "add"
    if does == "withdraw":
        return Withdraw(draw(st.sampled_from(ids)))
    if does == "amend":
        kind = draw(st.sampled_from((None, Kind.CLEAR, Kind.FINDING)))
        return Amend(draw(st.sampled_from(ids)), draw(SLOTS), "correction", kind=kind)
    ids.append(f"e{n}.{part}")
    doubts = draw(st.sampled_from(((), (), ("unclear",))))
    kind = draw(st.sampled_from(tuple(Kind)))
    at = "2026-01-05T08:00:00Z"
    return Add(Entry(ids[-1], f"u{n}", at, kind, draw(SLOTS), doubts=doubts))


def fact(seq: int, changes: list[Change]) -> Fact:
    """A line as it comes back from the disk."""
    body: dict[str, Any] = {"changes": [change_to_json(change) for change in changes]}
    return Fact(seq, "2026-01-05T08:00:00Z", 0.0, "", "utterance", json.loads(json.dumps(body)))


def inspect(utterances: list[list[Change]], grammar: Grammar, rails: Rails) -> Inspection:
    """Utterance by utterance, as in a live inspection."""
    ledger = Ledger(grammar.zone_map, grammar.rules, rails)
    for changes in utterances:
        ledger.apply(changes)
    return ledger.inspection()


@given(utterances=logs(), rails=RAILS)
@settings(max_examples=60)
def test_a_log_read_back_is_what_was_seen_live(
    utterances: list[list[Change]], rails: Rails, grammar: Grammar
) -> None:
    """One by one as they are said, or all at once from the disk: the same inspection."""
    facts = [fact(seq, changes) for seq, changes in enumerate(utterances, 1)]
    folded = fold(facts, grammar.zone_map, grammar.rules, rails)
    assert folded == inspect(utterances, grammar, rails)


@given(utterances=logs(), rails=RAILS)
@settings(max_examples=60)
def test_what_was_touched_is_what_stands(
    utterances: list[list[Change]], rails: Rails, grammar: Grammar
) -> None:
    """What apply returns last for an entry is what the inspection holds; nothing is lost."""
    ledger = Ledger(grammar.zone_map, grammar.rules, rails)
    latest = {f.entry.id: f for changes in utterances for f in ledger.apply(changes)}
    standing = {finding.entry.id: finding for finding in ledger.inspection().findings}
    assert standing == latest
    amends = [c for changes in utterances for c in changes if isinstance(c, Amend)]
    assert sum(len(finding.history) for finding in standing.values()) == len(amends)


@given(utterances=logs(), rails=RAILS)
@settings(max_examples=60)
def test_the_verdict_fits_what_was_found(
    utterances: list[list[Change]], rails: Rails, grammar: Grammar
) -> None:
    """Unsafe forbids driving; open places are named; withdrawn entries have no say."""
    inspection = inspect(utterances, grammar, rails)
    verdict, live = inspection.verdict, inspection.live
    if Grade.UNSAFE in map(worst_said, live):
        assert verdict.drive == "do-not-drive"
        assert verdict.tier in ("repairable", "beyond-repair")
    assert verdict.could_change == inspection.gaps
    assert any(reason.startswith("Provisional") for reason in verdict.because) == bool(
        verdict.could_change
    )
    withdrawn = {finding.entry.id for finding in inspection.findings if finding.withdrawn}
    assert not any(f"({gone})" in reason for gone in withdrawn for reason in verdict.because)
    assert not withdrawn & {gap.entry for gap in inspection.gaps}


@given(utterances=logs(), rails=RAILS)
@settings(max_examples=60)
def test_every_place_is_either_looked_at_or_listed(
    utterances: list[list[Change]], rails: Rails, grammar: Grammar
) -> None:
    """A place or cavity that nobody saw is never missing from the gaps."""
    inspection = inspect(utterances, grammar, rails)
    unseen = {(gap.zone, gap.side) for gap in inspection.gaps if gap.why == "not-seen"}
    shut = {(gap.zone, gap.side) for gap in inspection.gaps if gap.why == "cavity-not-seen"}
    for place, seen in inspection.coverage.items():
        assert seen.looked or place in unseen
        assert seen.inside is not False or place in shut


@given(utterances=logs(), rails=RAILS)
@settings(max_examples=60)
def test_withdrawing_everything_leaves_nothing_known(
    utterances: list[list[Change]], rails: Rails, grammar: Grammar
) -> None:
    """Then the verdict is that of an empty log, and all entries are still there."""
    added = [c.entry.id for changes in utterances for c in changes if isinstance(c, Add)]
    emptied = inspect([*utterances, [Withdraw(one) for one in added]], grammar, rails)
    empty = inspect([], grammar, rails)
    assert (emptied.coverage, emptied.gaps, emptied.verdict) == (
        empty.coverage,
        empty.gaps,
        empty.verdict,
    )
    assert [finding.entry.id for finding in emptied.findings] == added
