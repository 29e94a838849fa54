"""What was unsafe and is milder now is told until a person has decided on it."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from voicelog.config.grammar import Grammar
from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Add, Amend, Change, Entry, Kind, Withdraw
from voicelog.domain.fact import Fact
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import fold
from voicelog.findings.softened import softened

HOLE = {"zone": "radius-arm-mount", "side": "left", "condition": "hole"}
RUST = Amend("e2.1", {"condition": "surface-rust"}, "correction")


def _line(seq: int, *changes: Change, did: str = "") -> Fact:
    """A line of the inspection, or of the bench where something was ``did`` there."""
    body = {"changes": [change_to_json(change) for change in changes]}
    more = {"did": did, "by": "Sam"} if did else {"utterance": f"u{seq}"}
    kind = "revised" if did else "utterance"
    return Fact(seq, "2026-03-14T08:05:00Z", float(seq), "0" * 64, kind, body | more)


def _told(grammar: Grammar, *later: Fact, **slots: object) -> Mapping[str, Entry]:
    """What is told of one entry that was said, and of what came after it."""
    said = Entry("e2.1", "u2", "2026-03-14T08:05:02Z", Kind.FINDING, {**HOLE, **slots})
    facts = (_line(2, Add(said)), *later)
    found = fold(facts, grammar.zone_map, grammar.rules, Rails.OPEN)
    return softened(facts, found.findings, grammar.zone_map, grammar.rules)


def test_a_correction_by_voice_that_softens_is_told_with_what_stood_before(
    grammar: Grammar,
) -> None:
    """Milder by its fault or by its place, no finding any more, or withdrawn: all the same."""
    elsewhere = Amend("e2.1", {"zone": "cab-mount"}, "correction")
    clear = Amend("e2.1", {}, "correction", kind=Kind.CLEAR, drop=("condition",))
    for change in (RUST, elsewhere, clear, Withdraw("e2.1")):
        told = _told(grammar, _line(3, change))
        assert dict(told["e2.1"].slots) == HOLE, change


def test_what_is_unsafe_still_or_never_was_is_not_told(grammar: Grammar) -> None:
    """Another side is no softer, and a scale that became rust was never unsafe."""
    assert not _told(grammar)
    assert not _told(grammar, _line(3, Amend("e2.1", {"side": "right"}, "correction")))
    assert not _told(grammar, _line(3, RUST), condition="scale")


def test_naming_a_place_softens_nothing(grammar: Grammar) -> None:
    """Without one it was graded as the worst that it might be, and that was only a guess."""
    said = Entry("e2.1", "u2", "2026-03-14T08:05:02Z", Kind.FINDING, {"condition": "hole"})
    facts = (
        _line(2, Add(said)),
        _line(3, Amend("e2.1", {"zone": "sill", "side": "left"}, "place")),
    )
    found = fold(facts, grammar.zone_map, grammar.rules, Rails.OPEN).findings
    assert not softened(facts, found, grammar.zone_map, grammar.rules)


@pytest.mark.parametrize("did", ["confirm", "correct"])
def test_a_decision_at_the_bench_settles_it_until_it_is_undone(grammar: Grammar, did: str) -> None:
    """There a reason was asked for; what is taken back is as open as before."""
    sure = Amend("e2.1", {}, "correction", doubts=())
    assert not _told(grammar, _line(3, RUST), _line(4, sure, did=did))
    assert _told(grammar, _line(3, RUST), _line(4, sure, did=did), _line(5, sure, did="undo"))


def test_affirming_settles_only_what_stood_then(grammar: Grammar) -> None:
    """An *affirm* before the correction was about the entry while it was unsafe."""
    affirmed = Amend("e2.1", {}, "affirm", doubts=())
    assert not _told(grammar, _line(3, RUST), _line(4, affirmed))
    assert _told(grammar, _line(3, affirmed), _line(4, RUST))
