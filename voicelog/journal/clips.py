"""The sound of utterances: one FLAC file each, on disk before anything is made of it."""

from __future__ import annotations

import hashlib
import io
import os
from pathlib import Path
from typing import Any

from voicelog.domain.inert import inert
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip
from voicelog.domain.utterance import KeptClip
from voicelog.errors import InputFault
from voicelog.journal.naming import CLIPS, free, lies_inside
from voicelog.journal.own_files import holds, opened_own, own_file
from voicelog.journal.storage import have_folder, sync_folder, write_file
from voicelog.tongue import to_word, worded

_MOST_SAMPLES = 300 * SAMPLE_RATE
"""Of a clip: an utterance is cut after half a minute. A header that says more would fill the memory."""

_RESTORE = to_word("Restore the log's folder from a copy; voicelog verify tells what else is wrong")
_MOST_BYTES = 16 * 1024 * 1024
"""Of a clip's file; the longest utterance, kept without packing it, has a sixteenth of that."""
_LONGEST_NAME = 200
_WORDS_ARE_LEFT = to_word("What was heard in it is still in the log")


def write_clip(folder: Path, utterance: str, clip: Clip) -> dict[str, Any]:
    """Keeps a clip as ``clips/<utterance>.flac``.

    Other sound under that name belongs to no fact (the program stopped between the sound and its
    fact): it becomes ``clips/<utterance>.orphan-<n>.flac``.

    Returns:
        ``file`` (inside the log's folder), ``sha256`` of the file, ``start_s``, ``duration_s`` and
        ``samples``.

    Raises:
        ValueError: when the clip has no sound.
        OSError: when the disk refuses it.
    """
    data = to_flac(clip)
    clips = folder / CLIPS
    have_folder(clips)
    target = clips / f"{utterance}.flac"
    if os.path.lexists(target) and not holds(target, data):
        target.rename(free(clips, f"{utterance}.orphan-", ".flac"))
        sync_folder(clips)
    write_file(target, data)
    return {
        "file": f"{CLIPS}/{target.name}",
        "sha256": hashlib.sha256(data).hexdigest(),
        # What lies before the source is quiet that was put there: no reader takes such a time.
        "start_s": max(0.0, round(clip.start_s, 4)),
        "duration_s": round(clip.duration_s, 4),
        "samples": clip.samples,
    }


def to_flac(clip: Clip) -> bytes:
    """The clip as a FLAC file: 16 kHz, one channel, 16 bit, every sample kept.

    Raises:
        ValueError: when it has no sound; FLAC cannot hold nothing.
    """
    if clip.samples == 0:
        raise ValueError("a clip without sound cannot be kept")
    import numpy as np
    import soundfile

    whole = clip.pcm[: clip.samples * BYTES_PER_SAMPLE]
    samples = np.frombuffer(whole, "<i2").astype(np.int16)
    file = io.BytesIO()
    soundfile.write(file, samples, SAMPLE_RATE, format="FLAC", subtype="PCM_16")
    return file.getvalue()


def read_clip(folder: Path, kept: KeptClip) -> Clip:
    """The sound of an utterance, as it was kept.

    Args:
        folder: the log's.
        kept: which sound; where it has no hash, none is compared.

    Returns:
        16 kHz, one channel, 16 bit. When speech ended in it is not known any more; its end stands
        for that.

    Raises:
        InputFault: when it is not there (erased, or lost), cannot be read, is not what was kept,
            or is said to lie outside the log's clips.
    """
    data = _bytes_of(folder, kept.file)
    if kept.sha256 and hashlib.sha256(data).hexdigest() != kept.sha256:
        raise InputFault(
            worded("{file} was altered or cut short after it was kept", file=kept.file),
            worded(_RESTORE),
        )
    pcm = _from_flac(data, kept.file)
    return Clip(pcm, kept.start_s, kept.start_s + len(pcm) / BYTES_PER_SAMPLE / SAMPLE_RATE)


def _bytes_of(folder: Path, file: str) -> bytes:
    """All of a file; a name that leads out of the clips is refused, and so is a link."""
    path, shown = own_file(folder, file, CLIPS), inert(file, 80)
    if path is None and _may_be_lost(folder, file):
        raise InputFault(
            worded("{file} is not there: it was erased, or is lost", file=shown),
            worded(_WORDS_ARE_LEFT),
        )
    if path is None:
        raise InputFault(
            worded("{file} is no sound inside the log", file=repr(shown)), worded(_RESTORE)
        )
    try:
        with opened_own(path) as sound:
            data = sound.read(_MOST_BYTES + 1)
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise InputFault(
            worded("{file} cannot be read ({why})", file=shown, why=why),
            worded("Check who may read it"),
        ) from error
    if len(data) > _MOST_BYTES:
        raise InputFault(
            worded("{file} is larger than any sound of an utterance", file=shown),
            worded(_RESTORE),
        )
    return data


def _may_be_lost(folder: Path, file: str) -> bool:
    """True for a good name under which nothing lies."""
    named = lies_inside(file) and file.startswith(f"{CLIPS}/") and len(file) <= _LONGEST_NAME
    return named and not os.path.lexists(folder / file)


def _from_flac(data: bytes, file: str) -> bytes:
    """Its samples, signed 16-bit little-endian."""
    import soundfile

    try:
        with soundfile.SoundFile(io.BytesIO(data)) as sound:
            told = sound.samplerate, sound.channels, sound.frames
            samples = sound.read(min(sound.frames, _MOST_SAMPLES), dtype="int16")
    except soundfile.SoundFileError as error:
        raise InputFault(
            worded("{file} is damaged: no sound can be read from it", file=file), worded(_RESTORE)
        ) from error
    if told != (SAMPLE_RATE, 1, len(samples)) or not len(samples):
        raise InputFault(
            worded("{file} is cut short, or not 16 kHz with one channel", file=file),
            worded(_RESTORE),
        )
    return bytes(samples.astype("<i2").tobytes())
