"""A program that runs commands of voicelog in children with bounded memory and time.

Run as a script it reads one request a line from standard input and answers each with one line. It
has imported the slow parts already, and forks for every command: a child costs milliseconds. The
memory that a child takes is counted from what this process has.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import Any, NoReturn

_SLOW = (
    "numpy", "soundfile", "PIL.Image", "pydantic", "click", "rich.console", "jinja2", "soxr",
    "voicelog.cli.main", "voicelog.config.loading", "voicelog.config.layers",
    "voicelog.export.lines", "voicelog.runtime.review", "voicelog.runtime.session",
)  # fmt: skip


def serve() -> None:
    """Answers until standard input ends."""
    for name in _SLOW:
        with suppress(ImportError):
            __import__(name)
    for line in sys.stdin:
        print(json.dumps(_answer(json.loads(line))), flush=True)


def _answer(asked: dict[str, Any]) -> dict[str, Any]:
    begun, child = time.monotonic(), os.fork()
    if not child:
        _run(asked)
    timed_out = False
    while True:
        pid, status, used = os.wait4(child, os.WNOHANG)
        if pid:
            break
        if not timed_out and time.monotonic() - begun > asked["wall_s"]:
            timed_out = True
            with suppress(ProcessLookupError):
                os.killpg(child, signal.SIGKILL)
        time.sleep(0.004)
    return {
        "code": os.waitstatus_to_exitcode(status),
        "timed_out": timed_out,
        "took_s": used.ru_utime + used.ru_stime,
        "peak_mib": used.ru_maxrss / 1024,
    }


def _run(asked: dict[str, Any]) -> NoReturn:
    """The command, in this child; never comes back."""
    code = 99
    try:
        os.setsid()
        os.chdir(asked["cwd"])
        os.environ.update(asked["env"])
        _redirect(asked)
        _bound(asked["more_mib"])
        sys.argv = ["voicelog", *asked["arguments"]]
        _do(asked["arguments"])
        code = 0
    except SystemExit as left:
        code = left.code if isinstance(left.code, int) else int(left.code is not None)
    except BaseException:
        import traceback

        traceback.print_exc()
        code = 98
    finally:
        with suppress(Exception):
            sys.stdout.flush()
            sys.stderr.flush()
        os._exit(code)


def _do(arguments: list[str]) -> None:
    """A command of voicelog; or ``decode FILE``, what ``hear`` does before the ear, which is slow."""
    from voicelog.cli.main import run

    if arguments[0] != "decode":
        run(arguments)
        return
    from voicelog.capture.source import read_audio
    from voicelog.errors import VoicelogError

    samples = 0
    try:
        for block in read_audio(Path(arguments[1])):
            samples += len(block) // 2
    except VoicelogError as fault:
        print(fault, file=sys.stderr)
        sys.exit(fault.exit_code)
    finally:
        print(samples)


def _redirect(asked: dict[str, Any]) -> None:
    for number, (name, mode) in enumerate((("given", "rb"), ("out", "wb"), ("err", "wb"))):
        with Path(asked[name]).open(mode) as file:
            os.dup2(file.fileno(), number)
    sys.stdin = open(0, encoding="utf-8", errors="surrogateescape", closefd=False)  # noqa: SIM115
    sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stderr = open(2, "w", encoding="utf-8", errors="backslashreplace", closefd=False)  # noqa: SIM115


def _bound(more_mib: int) -> None:
    """So much address space beyond what the process has already."""
    pages = int(Path("/proc/self/statm").read_text("ascii").split()[0])
    most = pages * os.sysconf("SC_PAGE_SIZE") + more_mib * 2**20
    resource.setrlimit(resource.RLIMIT_AS, (most, most))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


if __name__ == "__main__":
    serve()
