"""What came of the kills of one kind."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from figures import Row


@dataclass
class Tally:
    """What came of the kills of one kind."""

    what: str
    kills: int = 0
    survived: int = 0
    acknowledged: int = 0
    torn: int = 0
    orphans: int = 0
    drafts: int = 0
    before_opening: int = 0
    by_itself: int = 0
    faults: list[str] = field(default_factory=list)

    @property
    def row(self) -> Row:
        """As the report tells it."""
        left = f"left behind and told by verify: {self.torn} torn lines, {self.orphans} clips without a line, {self.drafts} drafts"
        never = f"; {self.before_opening} before a log was open" if self.before_opening else ""
        lost = f"; LOST OR DAMAGED: {'; '.join(self.faults[:3])}" if self.faults else ", 0 lost"
        note = f"{self.acknowledged:,} utterances acknowledged{lost}{never}; {left}"
        return Row(self.what, self.kills, self.survived, note)

    def take(self, notices: Iterable[str]) -> None:
        """Counts what a check told of that no earlier check of this log had."""
        for notice in notices:
            draft = ".part" in notice
            self.torn += " is torn " in notice
            self.drafts += draft
            self.orphans += "belongs to no line" in notice and not draft
