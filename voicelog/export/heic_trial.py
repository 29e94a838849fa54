"""Whether a HEIC file can be opened at all: tried in a process of its own first.

The decoder of HEIC is native code, and a damaged or hostile file can end the process that opens it:
random damage did so within seconds. JPEG, PNG, WebP and TIFF stood the same for minutes.
"""

from __future__ import annotations

import atexit
import hashlib
import struct
import subprocess
import sys
import threading
from contextlib import suppress
from functools import cache
from pathlib import Path

from voicelog.errors import InputFault
from voicelog.tongue import worded

_LONGEST_S = 60.0
"""A file that takes longer counts as one that cannot be opened (ours)."""
_BRANDS = frozenset((b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"))
_WORKER = Path(__file__).with_name("heic_worker.py")


def is_heic(head: bytes) -> bool:
    """True for a file that begins as HEIC does, by its first 12 bytes (ISO/IEC 23008-12, annex B)."""
    return head[4:8] == b"ftyp" and head[8:12] in _BRANDS


def try_heic(data: bytes, *, decode: bool = False) -> None:
    """Lets another process open a HEIC file before this one does; the answer is remembered.

    Args:
        data: the file.
        decode: its picture data too, not only what it tells.

    Raises:
        InputFault: that process did not live through it.
    """
    if not _trial().survives(data, decode=decode):
        raise InputFault(
            worded("The picture is damaged, and cannot be opened"), worded("Copy it again")
        )


class _Trial:
    """The other process: started when it is first needed, and again after a crash."""

    def __init__(self) -> None:
        self._worker: subprocess.Popen[bytes] | None = None
        self._known: dict[tuple[bytes, bool], bool] = {}
        self._lock = threading.Lock()
        atexit.register(self._end)

    def survives(self, data: bytes, *, decode: bool) -> bool:
        key = hashlib.sha256(data).digest(), decode
        with self._lock:
            if key not in self._known:
                self._known[key] = self._ask(data, b"d" if decode else b"o")
            return self._known[key]

    def _ask(self, data: bytes, what: bytes) -> bool:
        worker = self._living()
        clock = threading.Timer(_LONGEST_S, worker.kill)
        clock.start()
        lives = _answers(worker, what + struct.pack(">Q", len(data)) + data)
        clock.cancel()
        if not lives:
            self._end()
        return lives

    def _living(self) -> subprocess.Popen[bytes]:
        """The process; a new one where somebody ended it while it had nothing to do."""
        if self._worker is not None and self._worker.poll() is not None:
            self._end()
        self._worker = self._worker or _started()
        return self._worker

    def _end(self) -> None:
        worker, self._worker = self._worker, None
        if worker is not None:
            worker.kill()
            with suppress(OSError):
                worker.communicate()


def _started() -> subprocess.Popen[bytes]:
    pipe, nowhere = subprocess.PIPE, subprocess.DEVNULL
    command = [sys.executable, "-P", str(_WORKER)]  # modules beside it hide none of Python's own
    return subprocess.Popen(  # noqa: S603  (this program's own file, without a shell)
        command, stdin=pipe, stdout=pipe, stderr=nowhere
    )


def _answers(worker: subprocess.Popen[bytes], request: bytes) -> bool:
    assert worker.stdin is not None and worker.stdout is not None  # noqa: S101, PT018
    try:
        worker.stdin.write(request)
        worker.stdin.flush()
        return worker.stdout.read(1) == b"."
    except OSError:
        return False


@cache
def _trial() -> _Trial:
    return _Trial()
