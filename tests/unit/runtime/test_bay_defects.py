"""A defect in mid-inspection: what else was said is written, and the log is closed in order."""

from __future__ import annotations

from pathlib import Path

import pytest
from live_bay import Ears, Voice, play

from voicelog.config.grammar import Grammar
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.event import Event
from voicelog.runtime.session import Session

RUST = "left sill, surface rust"
STUMBLES = "left mid rail, scale"


def _stumbling(session: Session, _ears: Ears, _voice: Voice) -> None:
    """A session with a defect that one sentence finds."""
    read = session.read

    def stumble(text: str, *, at_s: float) -> Event:
        if text == STUMBLES:
            raise RuntimeError("a defect")
        return read(text, at_s=at_s)

    session.read = stumble  # type: ignore[method-assign]


def test_it_is_raised_and_costs_nothing_else(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """What was said before and after it, in the same turn, is in the log, which ends in order."""
    steps = [f">{RUST}", 0.1, 0.1, f">{STUMBLES}", f">{RUST}", 0.1]
    with pytest.raises(RuntimeError, match="a defect"):
        play(shipped_grammar, tmp_path, steps, change=_stumbling)
    (log,) = tmp_path.iterdir()
    facts = read_log(log).facts
    assert facts[-1].type == "stopped"
    assert sum(fact.type == "utterance" for fact in facts) >= 2
    assert verify(log).ok
    Journal.reopen(log).close()
