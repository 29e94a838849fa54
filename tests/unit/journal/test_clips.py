"""The sound of utterances on disk."""

from __future__ import annotations

import hashlib
import stat
from dataclasses import replace
from pathlib import Path

import pytest
import soundfile

from voicelog.domain.sound import Clip
from voicelog.journal.clips import to_flac, write_clip


def _names(folder: Path) -> list[str]:
    return sorted(path.name for path in (folder / "clips").iterdir())


def test_every_sample_is_kept(tmp_path: Path, clip: Clip) -> None:
    """16 kHz, one channel, 16 bit FLAC, sample for sample what was heard."""
    kept = write_clip(tmp_path, "u7", clip)
    info = soundfile.info(tmp_path / kept["file"])
    assert (info.format, info.subtype, info.samplerate, info.channels) == (
        "FLAC",
        "PCM_16",
        16_000,
        1,
    )
    samples, _ = soundfile.read(tmp_path / kept["file"], dtype="int16")
    assert samples.astype("<i2").tobytes() == clip.pcm


def test_its_fact_says_what_and_where_it_is(tmp_path: Path, clip: Clip) -> None:
    """File inside the log, hash of the file, place and length in seconds, samples."""
    kept = write_clip(tmp_path, "u7", replace(clip, start_s=12.345678))
    assert kept == {
        "file": "clips/u7.flac",
        "sha256": hashlib.sha256((tmp_path / "clips" / "u7.flac").read_bytes()).hexdigest(),
        "start_s": 12.3457,
        "duration_s": 0.1,
        "samples": 1600,
    }


def test_sound_is_private(tmp_path: Path, clip: Clip) -> None:
    """Nobody else may listen, and no draft of it is left."""
    write_clip(tmp_path, "u7", clip)
    assert stat.S_IMODE((tmp_path / "clips").stat().st_mode) == 0o700
    assert stat.S_IMODE((tmp_path / "clips" / "u7.flac").stat().st_mode) == 0o600
    assert _names(tmp_path) == ["u7.flac"]


def test_keeping_the_same_sound_again_changes_nothing(tmp_path: Path, clip: Clip) -> None:
    """After a refused fact the program may try again."""
    assert write_clip(tmp_path, "u7", clip) == write_clip(tmp_path, "u7", clip)
    assert _names(tmp_path) == ["u7.flac"]


def test_other_sound_of_that_name_is_never_overwritten(tmp_path: Path, clip: Clip) -> None:
    """A crash left it without a fact; it stays, under another name."""
    before = to_flac(clip)
    write_clip(tmp_path, "u7", clip)
    write_clip(tmp_path, "u7", replace(clip, pcm=clip.pcm[::-1]))
    write_clip(tmp_path, "u7", replace(clip, pcm=clip.pcm[:200]))
    assert _names(tmp_path) == ["u7.flac", "u7.orphan-1.flac", "u7.orphan-2.flac"]
    assert (tmp_path / "clips" / "u7.orphan-1.flac").read_bytes() == before


def test_half_a_sample_at_the_end_is_left_out(clip: Clip) -> None:
    """As :attr:`Clip.samples` counts."""
    assert to_flac(replace(clip, pcm=clip.pcm + b"\x01")) == to_flac(clip)


@pytest.mark.parametrize("pcm", [b"", b"\x01"])
def test_no_sound_is_no_clip(clip: Clip, pcm: bytes) -> None:
    """FLAC cannot hold nothing."""
    with pytest.raises(ValueError, match="without sound"):
        to_flac(replace(clip, pcm=pcm))
