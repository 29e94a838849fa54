"""Which entries are graded unsafe, kept so that it can be copied before every utterance; and that two
ears together call none of them less.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.domain.layers import Layers
from voicelog.domain.reading import Reading
from voicelog.findings.grading import worst_said
from voicelog.findings.ledger import Ledger
from voicelog.interpret.sense import doubted
from voicelog.runtime.both_ears import Played

SOFTER = "the other ear heard less than unsafe"
"""The doubt of an entry that both ears together would have softened."""


class Dangers:
    """Ids of the entries that are graded unsafe and hold; a copy is cheap, whatever was said."""

    def __init__(self, marked: Layers[bool] | None = None) -> None:
        self._marked: Layers[bool] = Layers() if marked is None else marked

    def copy(self) -> Dangers:
        """The same, as it is now."""
        return Dangers(self._marked.copy())

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and bool(self._marked.get(name))

    def note(self, findings: Iterable[Finding]) -> None:
        """Take note of how entries stand now."""
        for finding in findings:
            name, danger = finding.entry.id, finding.grade is Grade.UNSAFE and not finding.withdrawn
            if danger or name in self:
                self._marked[name] = danger

    def more(self, findings: Iterable[Finding]) -> int:
        """How many more entries somebody or some rule would call unsafe, once these stand so."""
        then = {finding.entry.id: _is_danger(finding) for finding in findings}
        return sum(danger - (name in self) for name, danger in then.items())


def _is_danger(finding: Finding) -> bool:
    return worst_said(finding) is Grade.UNSAFE and not finding.withdrawn


def unsoftened(first: Played, joint: Played, ledger: Ledger, dangers: Dangers) -> Reading:
    """The reading of both ears; the first one's, in doubt, where that calls less unsafe.

    Args:
        first: what the first ear's reading would do.
        joint: what that of both would do.
        ledger: as it stands before either.
        dangers: likewise.
    """
    alone, both = (dangers.more(ledger.preview(one.turn.changes)) for one in (first, joint))
    if alone <= both:
        return joint.reading
    said = tuple(doubted(statement, SOFTER) for statement in first.reading.statements)
    return replace(first.reading, statements=said, runner_up=joint.reading.statements)
