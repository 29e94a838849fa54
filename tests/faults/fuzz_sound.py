"""Recordings and kept clips under random input: sound comes out, or a fault with a sentence."""

from __future__ import annotations

import hashlib
import io
import tempfile
from collections.abc import Iterator
from pathlib import Path

from fuzz_target import Target, memory

from voicelog.capture.source import read_audio
from voicelog.capture.stream import MOST_BYTES, blocks_of
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip
from voicelog.domain.utterance import KeptClip
from voicelog.errors import InputFault
from voicelog.journal.clips import read_clip, to_flac

_BLOCK_BYTES = 8 * 1024 * 1024
"""What one block may hold: the memory stays bounded however long a recording says that it is."""

_MOST_BYTES = 512 * 1024 * 1024
"""A compressed file can hold hours of silence in a kilobyte; so much is read of it here."""

_WORDS = (
    b"RIFF", b"RF64", b"WAVE", b"fmt ", b"data", b"fact", b"LIST", b"fLaC", b"OggS", b"\x01vorbis", b"OpusHead",
    b"FORM", b"AIFF", b"AIFC", b"COMM", b"SSND", b".snd", b"caff", b"ID3", b"\xff\xfb", b"Creative Voice File",
    b"\xff\xff\xff\xff", b"\x00\x00\x00\x00", b"\x00\x00\x00\x80",
)  # fmt: skip


def sound() -> Target:
    """A recording, given as a file and through a pipe."""
    folder = Path(tempfile.mkdtemp(prefix="voicelog-fuzz-", dir=memory()))

    def run(data: bytes) -> None:
        path = folder / "recording"
        path.write_bytes(data)
        told = _outcome(lambda: read_audio(path))
        piped = _outcome(lambda: (block.pcm for block in blocks_of(io.BytesIO(data), "pipe")))
        assert not (told and not data), f"sound from nothing: {piped}"

    return Target("recordings: read and convert", run, _recordings, None, _WORDS, longest=20_000)


def clip() -> Target:
    """A clip beside a log, with the hash that the log gives it."""
    folder = Path(tempfile.mkdtemp(prefix="voicelog-fuzz-", dir=memory()))
    (folder / "clips").mkdir()

    def run(data: bytes) -> None:
        (folder / "clips" / "u2.flac").write_bytes(data)
        kept = KeptClip("clips/u2.flac", 0.0, 1.0, hashlib.sha256(data).hexdigest())
        made = read_clip(folder, kept)
        assert made.samples * BYTES_PER_SAMPLE == len(made.pcm) > 0

    return Target("clips: read again", run, lambda: [_flac()], None, _WORDS, longest=20_000)


def _outcome(blocks: object) -> int:
    """Bytes of sound that came out, before the fault if there was one."""
    taken = 0
    try:
        for pcm in blocks():  # type: ignore[operator]
            assert len(pcm) % BYTES_PER_SAMPLE == 0, "half a sample"
            assert len(pcm) <= _BLOCK_BYTES, f"a block of {len(pcm)} bytes"
            taken += len(pcm)
            if taken > _MOST_BYTES:
                break
    except InputFault:
        pass
    return taken


def _flac() -> bytes:
    return to_flac(Clip(_tone(), 0.0, 0.1))


def _tone() -> bytes:
    import numpy as np

    wave = np.sin(np.arange(SAMPLE_RATE // 10) * 0.2) * 9_000
    return bytes(wave.astype("<i2").tobytes())


def _recordings() -> Iterator[bytes]:
    """A tenth of a second in everything that the library writes, and raw."""
    import numpy as np
    import soundfile

    tone = np.frombuffer(_tone(), "<i2").astype(np.int16)
    yield _tone()[:MOST_BYTES]
    for form in soundfile.available_formats():
        for kind in list(soundfile.available_subtypes(form))[:4]:
            file = io.BytesIO()
            try:
                soundfile.write(file, tone, SAMPLE_RATE, format=form, subtype=kind)
            except (soundfile.SoundFileError, ValueError, TypeError):
                continue
            yield file.getvalue()
