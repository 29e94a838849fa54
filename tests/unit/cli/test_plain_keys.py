"""Lines typed in plain mode: keys, words, and slips."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from dataclasses import dataclass, field

import pytest

from voicelog.cli.plain import run_plain
from voicelog.runtime.messages import Action, Closed, Message


@dataclass
class Engine:
    """Records what it is asked for, and ends when it is stopped."""

    asked: list[object] = field(default_factory=list)
    publish: Callable[[Message], None] | None = None

    def start(self, publish: Callable[[Message], None]) -> None:
        """Keep where to publish."""
        self.publish = publish

    def act(self, action: Action) -> None:
        """Record it."""
        self.asked.append(action)

    def type(self, text: str) -> None:
        """Record it."""
        self.asked.append(text)

    def stop(self, *, unasked: bool = False) -> None:
        """Its last word."""
        assert self.publish is not None
        self.publish(Closed(None, unasked))


def test_a_letter_that_is_no_key_is_no_utterance(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever tries "h" for help finds it, and no remark in the log."""
    monkeypatch.setattr(sys, "stdin", io.StringIO("h\na\nleft sill, hole\n?\nq\n"))
    engine = Engine()
    run_plain(engine, as_json=False)
    assert engine.asked == [Action.AFFIRM, "left sill, hole"]
    told = capsys.readouterr().err
    assert "There is no key 'h'. Type ? and Enter for keys" in told
    assert "  ?   " in told
