"""Standing between the program and what it asks of a disk: every call counted, and met as is wanted."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Self

NAMES = ("write", "fsync", "ftruncate", "mkdir", "replace", "rename", "unlink", "rmdir")
"""The calls of :mod:`os` by which the journal changes a disk."""

_FREEING = frozenset({"unlink", "rmdir", "rename"})
"""What a full or failing disk is still asked for when it gives room back."""


@dataclass(frozen=True, slots=True)
class Call:
    """One call on its way to the system.

    Args:
        name: of the call.
        number: how many were made before it.
        given: its arguments; the first is a handle or a path.
        named: those by name.
        real: what makes it.
    """

    name: str
    number: int
    given: tuple[Any, ...]
    named: Mapping[str, Any]
    real: Callable[..., Any]

    def go_on(self) -> Any:
        """Let the system do it."""
        return self.real(*self.given, **self.named)

    def half(self) -> Any:
        """A write takes half of its bytes; everything else is done."""
        if self.name != "write":
            return self.go_on()
        data = bytes(self.given[1])
        return self.real(self.given[0], data[: len(data) // 2]) if len(data) > 1 else 0

    def refused(self, code: int) -> OSError:
        """The error of a disk that does not do it."""
        return OSError(code, os.strerror(code))

    @property
    def path(self) -> str:
        """What it is about: the path given, or that of the open file."""
        return path_of(self.given[0])


Meet = Callable[[Call], Any]
"""Does a call, raises in its place, or ends the program."""


def path_of(first: object) -> str:
    """The path of a call's first argument; that of a handle as Linux tells it."""
    if isinstance(first, int):
        try:
            return os.readlink(f"/proc/self/fd/{first}")  # noqa: PTH115  Path would cost more
        except OSError:
            return ""
    return os.fspath(first)  # type: ignore[call-overload,no-any-return]


class Between:
    """Stands between the program and :mod:`os` while it is entered.

    Args:
        meet: asked for every call.
        below: calls about anything outside this folder go on unmet and uncounted; None meets all.
    """

    def __init__(self, meet: Meet, below: Path | None = None) -> None:
        self.calls = 0
        self._meet, self._below = meet, str(below) + os.sep if below else ""
        self._real = {name: getattr(os, name) for name in NAMES}

    def __enter__(self) -> Self:
        for name in NAMES:
            setattr(os, name, self._standing_for(name))
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for name, call in self._real.items():
            setattr(os, name, call)

    def _standing_for(self, name: str) -> Callable[..., Any]:
        real = self._real[name]

        def call(*given: Any, **named: Any) -> Any:
            if self._below and not (path_of(given[0]) + os.sep).startswith(self._below):
                return real(*given, **named)
            before, self.calls = self.calls, self.calls + 1
            return self._meet(Call(name, before, given, named, real))

        return call


class Disk:
    """A disk that refuses what it is told to.

    Attributes:
        code: the error of a refused call.
        refuse: given the name of a call and how many came before, says whether it is refused.
        about: a part of the paths that calls are refused for; empty for all.
        half: the next refused write takes half of its bytes first.
        refusals: how many were refused.
    """

    def __init__(self, below: Path | None = None) -> None:
        self.code, self.about, self.half, self.refusals = errno.ENOSPC, "", False, 0
        self.refuse: Callable[[str, int], bool] = lambda *_: False
        self.between = Between(self.meet, below)

    def refuse_all(self, *names: str) -> None:
        """From now on these calls are refused."""
        self.refuse = lambda name, _: name in names

    def refuse_nth(self, n: int) -> None:
        """From now on the call that comes after ``n`` others is refused, and all after it."""
        self.between.calls = 0
        self.refuse = lambda _, before: before >= n

    def recover(self) -> None:
        """From now on nothing is refused."""
        self.refuse = lambda *_: False

    def meet(self, call: Call) -> Any:
        """Lets a call go on, or refuses it."""
        spared = call.name in _FREEING or self.about not in call.path
        if spared or not self.refuse(call.name, call.number):
            return call.go_on()
        if call.name == "write" and self.half:
            self.half = False  # the next write, of the rest, is refused outright
            return call.half()
        self.refusals += 1
        raise call.refused(self.code)
