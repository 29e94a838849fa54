"""Sound files read block by block, with a clear word on whatever is wrong with them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import IO, TYPE_CHECKING, Any

from voicelog.capture.convert import Converter
from voicelog.errors import InputFault
from voicelog.tongue import NOTHING, Worded, worded

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

BLOCK_SAMPLES = 65_536
"""Samples read at once, all channels together: what bounds the memory."""

RATES_HZ = range(4_000, 768_001)
"""Sample rates believed; a header that says anything else is damaged or a hoax."""

MOST_FRAMES = 2**40
"""Frames above which a header is taken not to know its length."""

UNKNOWN_BYTES = 0x7FFF_0000
"""Sizes from here on are what writers of endless WAV streams put for "not known"."""

_SHORT_CHUNK = re.compile(r"^(?:data|SSND) *: (\d+) \(should be (\d+)\)", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Block:
    """A stretch of sound and how far the reading is.

    Args:
        pcm: 16 kHz mono s16le samples.
        done_s: seconds of the recording read so far.
        total_s: its whole length in seconds, or None.
    """

    pcm: bytes
    done_s: float
    total_s: float | None


def decode(source: str | IO[bytes], name: str) -> Iterator[Block]:
    """The sound of a file, and then the fault if it was damaged.

    Args:
        source: a path, or an open file that can be sought in.
        name: what to call it in messages.

    Raises:
        InputFault: see :func:`voicelog.capture.source.read_audio`.
    """
    with _opened(source, name) as file:
        converter = Converter(file.samplerate)
        total_s = file.frames / file.samplerate if 0 < file.frames < MOST_FRAMES else None
        done = 0
        for frames in _frames(file):
            done += len(frames)
            yield Block(converter.convert(frames), done / file.samplerate, total_s)
        yield Block(converter.flush(), done / file.samplerate, total_s)
        _complain(file, name, done, converter.bad_samples)


def _opened(source: str | IO[bytes], name: str) -> Any:
    import soundfile

    try:
        file = soundfile.SoundFile(source)
    except TypeError as error:  # a name that ends in .raw: it says nothing of rate and channels
        raise InputFault(
            worded("{name} is called raw sound, which does not say how it was recorded", name=name),
            worded(
                "If it is 16 kHz mono 16-bit, give it on standard input: voicelog hear - < FILE"
            ),
        ) from error
    except soundfile.SoundFileError as error:
        raise InputFault(
            worded(
                "{name} is not a recording that can be read ({reason})",
                name=name,
                reason=_reason(error),
            ),
            worded("Give a WAV, FLAC or OGG file"),
        ) from error
    if file.samplerate not in RATES_HZ:
        file.close()
        raise InputFault(
            worded(
                "{name} says it has {samplerate} samples a second, which cannot be right",
                name=name,
                samplerate=file.samplerate,
            ),
            worded("Its header is damaged; copy or convert it again"),
        )
    return file


def _reason(error: Exception) -> str:
    return str(getattr(error, "error_string", error)).strip().rstrip(".").lower()


def _frames(file: Any) -> Iterator[Floats]:
    """Blocks of shape (frames, channels) until the end, or until the decoder gives up.

    A block is filled with a value no decoder writes first, to tell how much of it was read when
    the library reports a failure instead of a count.
    """
    import numpy as np
    import soundfile

    block = np.empty((max(1, BLOCK_SAMPLES // file.channels), file.channels), np.float32)
    while True:
        block.fill(_UNWRITTEN)
        try:
            read = file.read(out=block)
        except soundfile.SoundFileError:
            written = (block != np.float32(_UNWRITTEN)).any(axis=1)
            if written.any():
                yield block[: int(np.flatnonzero(written)[-1]) + 1]
            return
        if len(read) == 0:
            return
        yield read


_UNWRITTEN = -3.0e38


def _complain(file: Any, name: str, done: int, bad_samples: int) -> None:
    """Raise for what was wrong with a recording that has come out.

    Raises:
        InputFault: when it was shorter than it says, held no sound, or bad samples.
    """
    if done == 0:
        raise InputFault(
            worded("{name} holds no sound", name=name),
            worded(
                "Its recorder may not have finished writing it; copy, repair or record it again"
            ),
        )
    broken_off = _broken_off(file, done)
    if broken_off:
        raise InputFault(
            worded(
                "{name} breaks off after {seconds} s{broken_off}",
                name=name,
                seconds=f"{done / file.samplerate:.1f}",
                broken_off=broken_off,
            ),
            worded("Everything up to there was used; copy or record the rest again"),
        )
    if bad_samples:
        raise InputFault(
            worded(
                "{name} holds {bad_samples} samples that are no numbers, taken as silence",
                name=name,
                bad_samples=bad_samples,
            ),
            worded("Everything else was used; convert or record it again"),
        )


def _broken_off(file: Any, done: int) -> Worded:
    """How long it should be, as the end of a sentence; empty when nothing is missing."""
    info = file.extra_info
    chunk = _SHORT_CHUNK.search(info)
    if chunk:
        said, found = int(chunk[1]), int(chunk[2])
        if found < said < UNKNOWN_BYTES and found:
            return _of(done * said / found / file.samplerate)
    if file.format == "FLAC" and done < file.frames < MOST_FRAMES:
        return _of(file.frames / file.samplerate)
    return worded(", before the end of its stream") if "lacks an end-of-stream" in info else NOTHING


def _of(seconds: float) -> Worded:
    return worded(" of the {seconds} s it should have", seconds=f"{seconds:.1f}")
