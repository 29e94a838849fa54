"""What was graded unsafe and is not any more: nobody should have to find that out from its history."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from voicelog.domain.entry import Amend, Change, Entry, Finding, Kind, entry_id
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.grade import Grade, RuleSet
from voicelog.domain.zone import ZoneMap
from voicelog.findings.grading import Grader, worst_said


def softened(
    facts: Iterable[Fact], findings: Iterable[Finding], zone_map: ZoneMap, rules: RuleSet
) -> Mapping[str, Entry]:
    """Entries that were graded unsafe, are milder or gone now, and nobody has decided on since.

    A correction by voice is taken at its word, so that nobody has to argue under a vehicle; that it
    was one is told here, until a person affirms the entry or decides on it at the bench, where a
    reason is asked for. A place that was not named yet is graded as the worst that it may be:
    naming it softens nothing.

    Args:
        facts: the log's lines, in order.
        findings: its entries as they stand now, withdrawn ones included.
        zone_map: the log's own places.
        rules: the log's own severity table.

    Returns:
        The entry's id to how it last stood when it was unsafe.

    Raises:
        LogFault: a line holds a change that cannot be read.
    """
    milder = [f for f in findings if _is_milder(f)]
    if not milder:
        return {}
    grader = Grader(zone_map, rules)
    found = {f.entry.id: state for f in milder if (state := _unsafe_before(f, grader))}
    settled = _settled(facts, found) if found else frozenset()
    return {name: state for name, state in found.items() if name not in settled}


def _is_milder(finding: Finding) -> bool:
    """It has another state behind it, and is not called unsafe by anybody now."""
    unsafe = worst_said(finding) is Grade.UNSAFE
    return finding.withdrawn if unsafe else bool(finding.history)


def _unsafe_before(finding: Finding, grader: Grader) -> Entry | None:
    states = [*finding.history, finding.entry] if finding.withdrawn else finding.history
    return next((state for state in reversed(states) if _was_unsafe(state, grader)), None)


def _was_unsafe(state: Entry, grader: Grader) -> bool:
    if state.kind is not Kind.FINDING or "zone" not in state.slots:
        return False
    graded = grader.grade(state)
    return Grade.UNSAFE in (graded.computed, graded.spoken)


def _settled(facts: Iterable[Fact], names: Mapping[str, Entry]) -> frozenset[str]:
    """Those whose newest change is a person's own decision: at the bench, or by *affirm*."""
    decided: dict[str, bool] = {}
    for fact in facts:
        for change in changes_of(fact):
            if entry_id(change) in names:
                decided[entry_id(change)] = _is_decision(fact) or _is_affirmed(change)
    return frozenset(name for name, is_decided in decided.items() if is_decided)


def _is_decision(fact: Fact) -> bool:
    """A deed at the bench; one taken back decides nothing, unless somebody said why."""
    taken_back = fact.body.get("did") == "undo" and not fact.body.get("why")
    return fact.type == "revised" and not taken_back


def _is_affirmed(change: Change) -> bool:
    return isinstance(change, Amend) and change.why == "affirm"
