"""Commands run where they can do no harm: bounded memory and time, and folders of their own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

MORE_MIB = 1024
"""Address space that a command may take beyond what the loaded program has."""

LONGEST_S = 60.0
"""Seconds by the clock after which a command counts as one that hangs."""

_CHILD = Path(__file__).with_name("hostile_child.py")


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a command.

    Args:
        code: its exit code; 98 where an exception escaped, negative where a signal ended it.
        timed_out: it was ended because it took too long.
        took_s: seconds of a processor.
        peak_mib: the most memory it held at once, the loaded program included.
        out: what it wrote on standard output.
        err: what it wrote on standard error.
    """

    code: int
    timed_out: bool
    took_s: float
    peak_mib: float
    out: bytes
    err: bytes

    @property
    def crashed(self) -> bool:
        """It did not end by itself, or not on purpose."""
        return self.timed_out or self.code < 0 or self.code in (98, 99)

    @property
    def told(self) -> str:
        """Both outputs, as a person would see them."""
        return (self.out + self.err).decode("utf-8", "backslashreplace")


class Runner:
    """Runs commands of voicelog, each in a child of one waiting program.

    Args:
        home: an empty folder; settings, caches and outputs lie in it.
    """

    def __init__(self, home: Path) -> None:
        self.home = home
        self._env = {
            "HOME": str(home), "XDG_CONFIG_HOME": str(home / "config"),
            "XDG_CACHE_HOME": str(home / "cache"), "XDG_DATA_HOME": str(home / "data"),
            "COLUMNS": "100", "NO_COLOR": "1", "VOICELOG_SECOND_EAR": "off",
        }  # fmt: skip
        kept = {k: v for k, v in os.environ.items() if not k.startswith("VOICELOG_")}
        self._server = subprocess.Popen(
            [sys.executable, str(_CHILD)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            text=True, env={**kept, **self._env},
        )  # fmt: skip

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Ends the waiting program."""
        if self._server.stdin is not None:
            self._server.stdin.close()
        self._server.wait(30)

    def __call__(
        self,
        *arguments: object,
        given: Path | None = None,
        cwd: Path | None = None,
        more_mib: int = MORE_MIB,
        longest_s: float = LONGEST_S,
        **env: str,
    ) -> Outcome:
        """Run one command.

        Args:
            arguments: those of ``voicelog``.
            given: a file that it reads as standard input.
            cwd: where it runs; the home unless given.
            more_mib: address space beyond what the loaded program has.
            longest_s: seconds after which it is ended.
            env: further variables of the environment.
        """
        out, err = self.home / "out", self.home / "err"
        request = {
            "arguments": list(map(str, arguments)), "cwd": str(cwd or self.home),
            "env": {**self._env, **env}, "given": str(given or os.devnull), "out": str(out),
            "err": str(err), "more_mib": more_mib, "wall_s": longest_s,
        }  # fmt: skip
        assert self._server.stdin is not None
        assert self._server.stdout is not None
        self._server.stdin.write(json.dumps(request) + "\n")
        self._server.stdin.flush()
        told = json.loads(self._server.stdout.readline())
        return Outcome(**told, out=out.read_bytes(), err=err.read_bytes())


@contextmanager
def running(home: Path) -> Iterator[Runner]:
    """A runner for a while."""
    with Runner(home) as runner:
        yield runner
