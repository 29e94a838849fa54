"""A log to write to, a voice to keep, and a disk that can refuse."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from voicelog.domain.sound import Clip
from voicelog.journal.journal import Journal


class Disk:
    """Stands between the program and the system's write, fsync, mkdir, ftruncate and rename.

    Args:
        code: the error of a refused call.
        refuse: given the name of a call and how many came before, says whether it is refused.
        half: a refused write takes half of its bytes first.
    """

    CALLS = ("write", "fsync", "mkdir", "ftruncate", "replace")

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.code = errno.ENOSPC
        self.refuse: Callable[[str, int], bool] = lambda *_: False
        self.half = False
        self.calls = 0
        self._real = {name: getattr(os, name) for name in self.CALLS}
        for name in self.CALLS:
            monkeypatch.setattr(os, name, self._standing_for(name))

    def refuse_all(self, *names: str) -> None:
        """From now on these calls are refused."""
        self.refuse = lambda name, _: name in names

    def refuse_nth(self, n: int) -> None:
        """From now on the call that comes after ``n`` others is refused, and all after it."""
        self.calls = 0
        self.refuse = lambda _, before: before >= n

    def recover(self) -> None:
        """From now on nothing is refused."""
        self.refuse = lambda *_: False

    def _standing_for(self, name: str) -> Callable[..., object]:
        def call(*given: object, **named: object) -> object:
            before, self.calls = self.calls, self.calls + 1
            if not self.refuse(name, before):
                return self._real[name](*given, **named)
            if name == "write" and self.half:
                self.half = False  # the next write, of the rest, is refused outright
                taken = bytes(given[1])[: len(given[1]) // 2]  # type: ignore[arg-type,call-overload]
                return self._real[name](given[0], taken)
            raise OSError(self.code, os.strerror(self.code))

        return call


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> Disk:
    """A disk that refuses nothing until it is told to."""
    return Disk(monkeypatch)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    """A log of two facts."""
    with Journal.create(tmp_path, opened={}, grammar={"words/w.toml": b"w"}) as log:
        log.append("utterance", {"utterance": "u2", "text": "surface rust"})
        yield log


@pytest.fixture
def clip() -> Clip:
    """A quarter of a second of sound."""
    return Clip(bytes(range(250)) * 32, start_s=1.0, speech_end_s=1.2)
