"""How soon, and in how much memory, every command that opens logs takes a log of 100,000 facts."""

from __future__ import annotations

import fcntl
import os
import shutil
import struct
import subprocess
import sys
import tempfile
import termios
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

from voicelog.runtime.checked_before import checks_folder

OPENS_S, OPENS_MB = 2.0, 200.0
"""Wanted of opening: seconds, and megabytes at the peak."""

LIMIT_S = 300.0
"""No command is waited for longer."""

_CHILD = """
import atexit, resource, sys
told = sys.argv.pop(1)
def tell():
    with open('/proc/self/status') as status:
        peak = next(line.split()[1] for line in status if line.startswith('VmHWM'))
    used = resource.getrusage(resource.RUSAGE_SELF)
    with open(told, 'w') as file:
        file.write(f"{peak} {used.ru_utime + used.ru_stime}")
atexit.register(tell)
"""
"""Tells the peak of the process itself: what a parent is told of its child holds the parent's own."""

_COMMAND = "from voicelog.cli.main import run; run()"
_RESUME = """
from pathlib import Path
from voicelog.config.settings import Settings
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.going_on import earlier_log
from voicelog.runtime.opening import open_again
with open_again(earlier_log(Path(sys.argv[1]), Settings()), TypedEar()) as session:
    print(len(session.inspection().findings))
"""


@dataclass(frozen=True)
class Spent:
    """What one child process took.

    Args:
        seconds: from its start to its end, or to its first screen.
        work_s: processor time of all of it, which other work on the machine hardly changes.
        peak_mb: the most memory it held.
    """

    seconds: float
    work_s: float
    peak_mb: float


Run = Callable[[], Spent]


def opens(log: Path) -> dict[str, Run]:
    """What only has to open a log, and what does it; the order is that of the table. After the first,
    the program remembers that it checked the log.
    """
    return {
        "vehicle, the first time": lambda: _unremembered(log),
        "vehicle": lambda: spent(_COMMAND, "vehicle", log),
        "list": lambda: spent(_COMMAND, "list", log.parent),
        "verify": lambda: spent(_COMMAND, "verify", log),
        "resume": lambda: resumed(log),
        "review, first screen": lambda: first_screen(log),
    }


def tells(log: Path, into: Path) -> dict[str, Run]:
    """What tells everything that is in a log, and so takes as long as there is to tell."""
    json, html = into / "long.json", into / "long.html"
    return {
        "review --plain": lambda: spent(_COMMAND, "review", log, "--plain"),
        "export json": lambda: spent(_COMMAND, "export", log, "-o", json),
        "export csv": lambda: spent(_COMMAND, "export", log, "-o", into / "long.csv"),
        "report (html)": lambda: spent(_COMMAND, "export", log, "-o", html),
        "work": lambda: spent(_COMMAND, "work", log),
        "why": lambda: spent(_COMMAND, "why", log),
    }


def spent(code: str, *words: object) -> Spent:
    """Run a child to its end; its output goes nowhere.

    Raises:
        SystemExit: it fails, or takes too long.
    """
    with tempfile.TemporaryDirectory() as folder:
        told = Path(folder) / "peak"
        begun = perf_counter()
        child = subprocess.run(
            _python(code, told, words), stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
            timeout=LIMIT_S, check=False,
        )  # fmt: skip
        seconds = perf_counter() - begun
        if child.returncode:
            raise SystemExit(
                f"{words} ended with {child.returncode}: {child.stderr.decode()[-2000:]}"
            )
        return _spent(seconds, told)


def _unremembered(log: Path) -> Spent:
    """Open a log that was never opened before."""
    shutil.rmtree(checks_folder(), ignore_errors=True)
    return spent(_COMMAND, "vehicle", log)


def resumed(log: Path) -> Spent:
    """Go on with the log; what that writes into it is cut off again."""
    journal = log / "journal.jsonl"
    size = journal.stat().st_size
    try:
        return spent(_RESUME, log)
    finally:
        os.truncate(journal, size)


def first_screen(log: Path, drawn: bytes = b"Runner-up", size: tuple[int, int] = (80, 24)) -> Spent:
    """Open the review screen on a terminal of its own, wait for the foot of its first screen, leave."""
    ours, theirs = os.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
    with tempfile.TemporaryDirectory() as folder:
        told, begun, seen = Path(folder) / "peak", perf_counter(), b""
        child = subprocess.Popen(
            _python(_COMMAND, told, ("review", log)), stdin=theirs, stdout=theirs, stderr=theirs,
            start_new_session=True, env={**os.environ, "TERM": "xterm-256color"},
        )  # fmt: skip
        os.close(theirs)
        while drawn not in seen:
            if not (more := _read(ours)):
                raise SystemExit(f"voicelog review ended: {seen.decode(errors='replace')[-2000:]}")
            seen += more
        seconds = perf_counter() - begun
        os.write(ours, b"q")
        while _read(ours):
            pass
        child.wait(30)
        os.close(ours)
        return _spent(seconds, told)


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 65536)
    except OSError:  # the other side has gone
        return b""


def _python(code: str, told: Path, words: Sequence[object]) -> list[str]:
    return [sys.executable, "-c", _CHILD + code, str(told), *map(str, words)]


def _spent(seconds: float, told: Path) -> Spent:
    peak_kb, work_s = told.read_text(encoding="ascii").split()
    return Spent(seconds, float(work_s), int(peak_kb) / 1e3)
