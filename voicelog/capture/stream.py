"""Sound that comes through a pipe: raw samples as they arrive, or a whole file."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from typing import IO, Protocol

from voicelog.capture.decode import Block, decode
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE
from voicelog.errors import InputFault, StorageFault
from voicelog.tongue import worded

FILE_MARKS = (b"RIFF", b"fLaC", b"OggS", b"RF64", b"FORM")
"""First four bytes of the kinds of file that are decoded rather than taken as raw samples."""

MOST_BYTES = 16_384
"""Bytes of raw sound in a block: half a second, less when the sender is live."""


class Pipe(Protocol):
    """The reading end of a pipe, as ``sys.stdin.buffer`` is one."""

    def read(self, size: int = -1, /) -> bytes:
        """Exactly so many bytes, fewer only at the end."""

    def read1(self, size: int = -1, /) -> bytes:
        """What is there, up to so many bytes, waiting for the first."""


def blocks_of(pipe: Pipe, name: str) -> Iterator[Block]:
    """The sound of a pipe; raw samples come out as soon as they arrive.

    Args:
        pipe: where to read.
        name: what to call it in messages.

    Raises:
        InputFault: as for a file; also when nothing came at all.
        StorageFault: when a file in the pipe finds no room on the disk.
    """
    head = pipe.read(4)
    if not head:
        raise InputFault(
            worded("{name} held no sound", name=name),
            worded("Pipe a recording or raw samples into it"),
        )
    if head in FILE_MARKS:
        with tempfile.TemporaryFile() as file:
            _set_aside(head, pipe, file)
            yield from decode(file, name)
    else:
        yield from _raw(head, pipe)


def _raw(head: bytes, pipe: Pipe) -> Iterator[Block]:
    """Whole samples; half a sample waits for its other half, and is dropped at the very end."""
    waiting, samples = head, 0
    while waiting:
        whole = len(waiting) // BYTES_PER_SAMPLE * BYTES_PER_SAMPLE
        samples += whole // BYTES_PER_SAMPLE
        yield Block(waiting[:whole], samples / SAMPLE_RATE, None)
        more = pipe.read1(MOST_BYTES)
        waiting = waiting[whole:] + more if more else b""


def _set_aside(head: bytes, pipe: Pipe, file: IO[bytes]) -> None:
    """Copy the pipe to a file without a name: decoding needs to jump about in it."""
    try:
        file.write(head)
        shutil.copyfileobj(pipe, file)
        file.seek(0)
    except OSError as error:
        raise StorageFault(
            worded(
                "There is no room to set the piped recording aside ({reason})",
                reason=error.strerror,
            ),
            worded("Free some disk space, or name the file instead of piping it"),
        ) from error
