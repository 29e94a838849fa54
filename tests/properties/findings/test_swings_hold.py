"""What holds for any log: what could change its verdict really would."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Add, Change, Entry, Inspection, Kind, Withdraw
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import Ledger
from voicelog.findings.what_if.rejudging import Rejudging
from voicelog.findings.what_if.sensitivity import swings
from voicelog.findings.what_if.suppositions import Suppositions

SLOTS = st.fixed_dictionaries(
    {},
    optional={
        "zone": st.sampled_from(("mid-rail", "kick-up", "shock-mount", "brake-line", "odd")),
        "side": st.sampled_from(("left", "right", "both", "centre")),
        "face": st.sampled_from(("interior", "top")),
        "condition": st.sampled_from(("hole", "surface-rust", "debris", "crack", "deformation")),
        "probe": st.sampled_from(("firm", "dull", "soft")),
        "surround": st.sampled_from(("firm", "none")),
        "certainty": st.just("tentative"),
        "spoken_grade": st.sampled_from(("cosmetic", "unsafe")),
        "thickness_mm": st.floats(0.1, 10.0),
        "nominal_mm": st.floats(1.0, 10.0),
    },
)
RAILS = st.sampled_from(tuple(Rails))


@st.composite
def logs(draw: st.DrawFn) -> list[Change]:
    """Up to a dozen entries, some of them withdrawn."""
    changes: list[Change] = []
    for n in range(1, draw(st.integers(0, 12)) + 1):
        kind, slots = draw(st.sampled_from(tuple(Kind))), draw(SLOTS)
        doubts = draw(st.sampled_from(((), (), ("unclear",))))
        other = draw(st.one_of(st.just({}), SLOTS))
        unplaced = kind is Kind.REMARK and "zone" not in slots
        entry = Entry(
            f"e{n}.1", f"u{n}", "2026-01-05T08:00:00Z", kind, slots, "some rust, bent",
            doubts=doubts, runner_up=other, unplaced=unplaced,
        )  # fmt: skip
        changes.append(Add(entry))
        if draw(st.integers(0, 9)) == 0:
            changes.append(Withdraw(entry.id))
    return changes


def folded(changes: list[Change], grammar: Grammar, rails: Rails) -> Inspection:
    """All of it, judged from the start."""
    ledger = Ledger(grammar.zone_map, grammar.rules, rails)
    ledger.take(changes)
    return ledger.inspection()


@given(changes=logs(), rails=RAILS)
@settings(max_examples=6, deadline=None)
def test_really_said_it_gives_what_was_told(
    changes: list[Change], rails: Rails, grammar: Grammar
) -> None:
    """Both outcomes of every swing, among those that were supposed, judged from the start."""
    inspection = folded(changes, grammar, rails)
    judged = Rejudging(inspection, grammar.zone_map, grammar.rules, rails)
    now = judged.after(())
    verdict = inspection.verdict
    assert now == (verdict.drive, verdict.work, verdict.tier)
    told = {
        swing.gap: swing for swing in swings(inspection, grammar.zone_map, grammar.rules, rails)
    }
    for one in Suppositions(inspection, grammar.zone_map, grammar.rules).all():
        answers = set()
        for outcome in one.outcomes:
            then = folded([*changes, *outcome.changes], grammar, rails).verdict
            answers.add((then.drive, then.work, then.tier))
        swing = told.get(one.gap)
        assert (swing is not None) is any(answer != now for answer in answers)
        if swing is not None:
            assert {swing.if_bad, swing.if_good} <= answers
