"""Recorded sound as the program carries it: blocks of 16 kHz mono PCM, in bounded memory.

Whatever can be read of a damaged recording comes out first, and only then the fault, so that a
recording that breaks off after an hour still gives an hour of findings.
"""

from __future__ import annotations

import stat
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import cast

from voicelog.capture.decode import Block, decode
from voicelog.capture.stream import Pipe, blocks_of
from voicelog.errors import InputFault
from voicelog.tongue import worded

Progress = Callable[[float, float | None], None]
"""Called with the seconds read so far and the seconds there are, None where that is unknown."""

STANDARD_INPUT = Path("-")


def read_audio(path: Path, *, progress: Progress | None = None) -> Iterator[bytes]:
    """The sound of a recording, resampled to 16 kHz and mixed down to one channel.

    Args:
        path: a WAV, FLAC or OGG file of any sample rate and number of channels, or ``-`` for
            standard input: raw 16 kHz mono signed 16-bit little-endian samples, or such a file.
        progress: told after every block how far the reading is.

    Yields:
        Blocks of whole samples, signed 16-bit little-endian, never empty.

    Raises:
        InputFault: when nothing can be read, or, after everything readable has come out, when the
            recording is shorter than it says or holds samples that are no numbers. Whoever reads
            must put what came out to use before passing the fault on.
        StorageFault: when a file given on standard input finds no room on the disk.
    """
    for block in _standard_input() if path == STANDARD_INPUT else _named(path):
        if block.pcm:
            yield block.pcm
        if progress:
            progress(block.done_s, block.total_s)


def _standard_input() -> Iterator[Block]:
    if sys.stdin is None or sys.stdin.closed or sys.stdin.isatty():
        raise InputFault(
            worded("Standard input is a keyboard, not a recording"),
            worded("Pipe sound into it, or name a file: voicelog hear FILE"),
        )
    yield from blocks_of(cast(Pipe, sys.stdin.buffer), "Standard input")


def _named(path: Path) -> Iterator[Block]:
    """Open a file by name; a pipe that has a name is read as a stream."""
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise InputFault(
                worded("{path} is a folder, not a recording", path=path),
                worded("Name a file that is in it"),
            )
        if not stat.S_ISREG(status.st_mode):
            with path.open("rb") as stream:
                yield from blocks_of(stream, str(path))
            return
        if status.st_size == 0:
            raise InputFault(
                worded("{path} is empty", path=path),
                worded("Record it again, or name another file"),
            )
        path.open("rb").close()
    except FileNotFoundError as error:
        raise InputFault(
            worded("There is no file {path}", path=path), worded("Check its name and folder")
        ) from error
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise InputFault(
            worded("{path} cannot be read ({why})", path=path, why=why),
            worded("Check who may read it"),
        ) from error
    yield from decode(str(path), str(path))
