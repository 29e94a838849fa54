"""All sound of a log as one file: clip after clip, a short silence between them."""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from voicelog.domain.inert import inert
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE
from voicelog.domain.utterance import KeptClip
from voicelog.errors import InputFault, StorageFault
from voicelog.journal.clips import read_clip
from voicelog.journal.storage import PRIVATE_FILE, storing, sync_folder
from voicelog.tongue import as_it_is, worded

SILENCE_S = 0.5
"""Silence between two clips, so that one hears where each begins (ours)."""

_MARK = "voicelog, clips joined"
"""Stands in the file's own comment, so that nobody's recording is taken for one of ours."""


@dataclass(frozen=True, slots=True)
class Part:
    """Where a clip lies in longer sound.

    Args:
        name: whose clip it is.
        start: number of its first sample, at 16 kHz.
        samples: how many it has; 0 where it could not be read.
        problem: why not, as a sentence.
    """

    name: str
    start: int
    samples: int
    problem: str = ""

    @classmethod
    def at(cls, name: str, start_s: float, duration_s: float) -> Part:
        """A clip that lies somewhere else, from seconds."""
        return cls(name, round(start_s * SAMPLE_RATE), round(duration_s * SAMPLE_RATE))

    @property
    def start_s(self) -> float:
        """The same in seconds."""
        return self.start / SAMPLE_RATE

    @property
    def duration_s(self) -> float:
        """Length in seconds."""
        return self.samples / SAMPLE_RATE


def join_clips(
    folder: Path,
    clips: Iterable[tuple[str, KeptClip]],
    target: Path,
    progress: Callable[[int], None] = lambda _: None,
) -> tuple[Part, ...]:
    """Write all clips into one FLAC file: 16 kHz, one channel, 16 bit, every sample kept.

    One clip is in memory at a time. The file is there as a whole or not at all; one that this
    program joined earlier is replaced. Where no clip can be read there is no file.

    Args:
        folder: the log's.
        clips: name and clip, in order; one that cannot be read is passed over.
        target: the file.
        progress: told after each clip how many are done.

    Returns:
        Where each of them lies, those that could not be read among them.

    Raises:
        UsageFault: the file there is somebody's own.
        StorageFault: the disk refuses it.
    """
    refuse_foreign(target)
    draft = target.with_name(f".voicelog-{secrets.token_hex(6)}.flac")
    try:
        with storing(as_it_is(inert(str(target)))):
            parts = _write(folder, clips, draft, progress)
            if any(part.samples for part in parts):
                _keep(draft, target)
    finally:
        draft.unlink(missing_ok=True)
    return parts


def refuse_foreign(target: Path) -> None:
    """Do not let somebody's own recording be written over.

    Raises:
        StorageFault: there is a file of that name which this program did not join, or there can
            be none.
    """
    with storing(as_it_is(inert(str(target)))):
        there = target.exists()
    if not there or is_joined(target):
        return
    raise StorageFault(
        worded(
            "{target} is there already, and is not sound that was joined by voicelog",
            target=inert(str(target)),
        ),
        worded("Choose another name with -o, or leave the sound out with --no-audio."),
    )


def is_joined(target: Path) -> bool:
    """Whether a file is sound that this program joined."""
    import soundfile

    try:
        with soundfile.SoundFile(target) as sound:
            return str(sound.comment) == _MARK
    except (OSError, soundfile.SoundFileError):
        return False


def _write(
    folder: Path,
    clips: Iterable[tuple[str, KeptClip]],
    draft: Path,
    progress: Callable[[int], None],
) -> tuple[Part, ...]:
    import numpy as np
    import soundfile

    silence, parts, at = np.zeros(round(SILENCE_S * SAMPLE_RATE), np.int16), [], 0
    with _sound(soundfile, draft) as sound:
        for name, kept in clips:
            try:
                pcm = read_clip(folder, kept).pcm
            except InputFault as fault:
                parts.append(Part(name, at, 0, fault.message))
            else:
                if at:
                    sound.write(silence)
                    at += len(silence)
                sound.write(np.frombuffer(pcm, "<i2").astype(np.int16))
                parts.append(Part(name, at, len(pcm) // BYTES_PER_SAMPLE))
                at += parts[-1].samples
            progress(len(parts))
    return tuple(parts)


@contextmanager
def _sound(soundfile: Any, draft: Path) -> Iterator[Any]:
    """A private FLAC file, open for writing; what the disk refuses comes as OSError.

    Raises:
        OSError: the disk refuses it.
    """
    os.close(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, PRIVATE_FILE))
    try:
        with soundfile.SoundFile(draft, "w", SAMPLE_RATE, 1, "PCM_16", format="FLAC") as sound:
            sound.comment = _MARK
            yield sound
    except (soundfile.SoundFileError, AssertionError) as refused:  # it asserts that all was written
        raise OSError(errno.EIO, worded("the disk took only a part of it")) from refused


def _keep(draft: Path, target: Path) -> None:
    with draft.open("rb") as file:
        os.fsync(file.fileno())
    draft.replace(target)
    sync_folder(target.parent)
