"""An inspection that is called off before there is a log ends at the next step."""

from __future__ import annotations

import pytest

from voicelog.config.settings import Settings
from voicelog.errors import VoiceFault
from voicelog.runtime.live import LiveEngine, Order
from voicelog.runtime.messages import Closed, Message


class Ear:
    """Hears nothing; tells whether it was let go."""

    closed = False

    def close(self) -> None:
        """It was."""
        self.closed = True


def test_it_waits_for_one_slow_step_at_most(monkeypatch: pytest.MonkeyPatch) -> None:
    """The ear was being loaded: neither voice nor microphone is opened after it, and no log."""
    ear, told = Ear(), list[Message]()

    def loads(*_: object) -> Ear:
        engine.stop()
        return ear

    def never(*_: object) -> None:
        raise AssertionError("opened all the same")

    monkeypatch.setattr("voicelog.runtime.live.open_the_ear", loads)
    engine = LiveEngine(Order(Settings()), source=never, announcer=never)  # type: ignore[arg-type]
    engine.start(told.append)
    assert engine.join(20.0)
    assert told[-1] == Closed(None, False)
    assert ear.closed


def test_what_was_typed_before_it_is_not_lost(monkeypatch: pytest.MonkeyPatch) -> None:
    """It goes on, so that the words come into a log."""
    steps, told = list[str](), list[Message]()

    def opens(*_: object) -> None:
        steps.append("announcer")
        raise VoiceFault("None here")

    monkeypatch.setattr("voicelog.runtime.live.open_the_ear", lambda *_: Ear())
    engine = LiveEngine(Order(Settings()), source=opens, announcer=opens)  # type: ignore[arg-type]
    engine.type("left sill, hole")
    engine.stop()
    engine.start(told.append)
    assert engine.join(20.0)
    assert steps == ["announcer"]
