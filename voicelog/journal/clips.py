"""The sound of utterances: one FLAC file each, on disk before anything is made of it."""

from __future__ import annotations

import hashlib
import io
from pathlib import Path
from typing import Any

from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip
from voicelog.journal.naming import CLIPS, free
from voicelog.journal.storage import make_folder, sync_folder, write_file


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
    if not clips.is_dir():
        make_folder(clips)
    target = clips / f"{utterance}.flac"
    if target.exists() and target.read_bytes() != data:
        target.rename(free(clips, f"{utterance}.orphan-", ".flac"))
        sync_folder(clips)
    write_file(target, data)
    return {
        "file": f"{CLIPS}/{target.name}",
        "sha256": hashlib.sha256(data).hexdigest(),
        "start_s": round(clip.start_s, 4),
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
