"""An ear that fails costs the words of one utterance, and no more."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.recognise.port import ANYTHING, Expected, hear_clip
from voicelog.recognise.unfailing import Unfailing

CLIP = Clip(b"\1\0" * 160, 0.0, 0.01)


class Native:
    """Hears, unless something in it breaks."""

    engine, model = "built-in", "m"

    def __init__(self) -> None:
        self.breaks = ""
        self.forgot = 0

    def _may_break(self, where: str) -> None:
        if self.breaks == where:
            raise MemoryError("bad allocation")

    def expect(self, expected: Expected) -> None:
        """Lean."""
        self._may_break("expect")

    def feed(self, pcm: bytes) -> None:
        """Sound."""
        self._may_break("feed")

    def partial(self) -> str:
        """So far."""
        self._may_break("partial")
        return "left"

    def finish(self) -> Heard:
        """All of it."""
        self._may_break("finish")
        return Heard.typed("left sill")

    def forget(self) -> None:
        """Nothing was said."""
        self.forgot += 1
        self._may_break("forget")

    def close(self) -> None:
        """Let go."""


@pytest.fixture
def told() -> list[Exception]:
    """Failures that were told."""
    return []


@pytest.fixture
def native() -> Native:
    """What may break."""
    return Native()


@pytest.fixture
def ear(native: Native, told: list[Exception]) -> Unfailing:
    """The ear around it."""
    return Unfailing(native, told.append)


@pytest.mark.parametrize("where", ["feed", "partial", "finish"])
def test_a_failure_is_no_words_and_is_told_once(
    ear: Unfailing, native: Native, told: list[Exception], where: str
) -> None:
    """Whatever breaks in the native code, the next utterance is heard."""
    native.breaks = where
    ear.partial()
    assert hear_clip(ear, CLIP) == Heard((), "built-in", "m")
    assert [type(failure) for failure in told] == [MemoryError]
    assert native.forgot == 1
    native.breaks = ""
    assert hear_clip(ear, CLIP).text == "left sill"
    assert len(told) == 1


@pytest.mark.parametrize(
    ("where", "deed"),
    [
        ("expect", lambda ear: ear.expect(ANYTHING)),
        ("forget", lambda ear: ear.forget()),
        ("partial", lambda ear: ear.partial()),
    ],
)
def test_what_gives_no_words_fails_in_silence(
    ear: Unfailing,
    native: Native,
    told: list[Exception],
    where: str,
    deed: Callable[[Unfailing], object],
) -> None:
    """The utterance tells of it, if it comes to one."""
    native.breaks = where
    deed(ear)
    assert told == []


def test_an_interrupt_is_no_failure_of_the_ear(ear: Unfailing, native: Native) -> None:
    """Whoever wants the end gets it."""
    native.finish = _interrupted  # type: ignore[method-assign]
    with pytest.raises(KeyboardInterrupt):
        ear.finish()


def _interrupted() -> Heard:
    raise KeyboardInterrupt
