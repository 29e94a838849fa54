"""What came of all cases of one kind of damage."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from damage_recovered import Outcome


@dataclass(slots=True)
class Counted:
    """What came of all cases of a kind.

    Args:
        tried: how many there were.
        named: of them, those in which the damage was named.
        held: those in which nothing went wrong.
        facts: that were written, in the cases in which there was something to recover.
        whole: of them, those whose lines still stood in the file.
        recovered: those that are in the new logs.
        trusted: lines that nothing vouches for, altered, and told of as taken on trust.
        wrong: what went wrong, and in how many cases.
    """

    tried: int = 0
    named: int = 0
    held: int = 0
    facts: int = 0
    whole: int = 0
    recovered: int = 0
    trusted: int = 0
    wrong: Counter[str] = field(default_factory=Counter)

    def take(self, outcome: Outcome, facts: int) -> None:
        """Counts one case in."""
        self.tried += 1
        self.named += outcome.named
        self.held += not outcome.wrong
        self.wrong.update(outcome.wrong)
        self.trusted += outcome.trusted
        if outcome.recovered is not None:
            self.facts += facts
            self.whole += outcome.whole
            self.recovered += outcome.recovered

    def note(self, why: str) -> str:
        """What stands beside the row, and why nothing can be seen where that is so."""
        told = [f"named {self.named:,}"]
        if self.facts:
            told.append(
                f"of {self.facts:,} facts {self.whole:,} stood in the file, {self.recovered:,}"
                " recovered"
            )
        if self.trusted:
            told.append(f"{self.trusted} altered facts taken, named as on trust")
        return "; ".join([*told, *filter(None, [why])])
