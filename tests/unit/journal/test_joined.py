"""All sound of a log in one file."""

from __future__ import annotations

import hashlib
import resource
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest
import soundfile

from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.domain.utterance import KeptClip
from voicelog.errors import StorageFault
from voicelog.journal.clips import write_clip
from voicelog.journal.joined import Part, join_clips
from voicelog.journal.naming import is_given

SILENCE = 8_000
"""Samples: half a second."""


def _noise(samples: int, seed: int) -> np.ndarray:
    return np.random.default_rng(seed).integers(-9000, 9000, samples, dtype=np.int16)


def _kept(folder: Path, *samples: int) -> list[tuple[str, KeptClip]]:
    """Clips of these lengths, as a journal keeps them."""
    folder.mkdir(exist_ok=True)
    clips = []
    for number, count in enumerate(samples, 2):
        kept = write_clip(folder, f"u{number}", Clip(_noise(count, number).tobytes(), 0.0, 0.0))
        clips.append((f"u{number}", KeptClip(kept["file"], 0.0, 0.0, kept["sha256"])))
    return clips


def test_every_sample_is_there_with_silence_between(tmp_path: Path) -> None:
    """The joined length is the sum of clips and silences, and each clip starts where it is told."""
    lengths, target = (16_000, 5_001, 1), tmp_path / "walk.flac"
    parts = join_clips(tmp_path / "log", _kept(tmp_path / "log", *lengths), target)
    sound, rate = soundfile.read(target, dtype="int16")
    assert rate == SAMPLE_RATE
    assert sound.shape == (sum(lengths) + 2 * SILENCE,)
    for number, (part, count) in enumerate(zip(parts, lengths, strict=True), 2):
        heard = sound[part.start : part.start + part.samples]
        assert part.samples == count
        assert (heard == _noise(count, number)).all()
    assert not sound[16_000 : 16_000 + SILENCE].any()
    assert [part.start for part in parts] == [0, 16_000 + SILENCE, 21_001 + 2 * SILENCE]


def test_a_clip_that_is_gone_or_altered_is_passed_over_and_told(tmp_path: Path) -> None:
    """The others lie as if it had never been."""
    clips = _kept(tmp_path / "log", 4_000, 4_000, 4_000, 4_000)
    (tmp_path / "log" / clips[0][1].file).unlink()
    (tmp_path / "log" / clips[2][1].file).write_bytes(b"no sound")
    parts = join_clips(tmp_path / "log", clips, tmp_path / "walk.flac")
    assert [part.samples for part in parts] == [0, 4_000, 0, 4_000]
    assert "erased" in parts[0].problem
    assert "altered" in parts[2].problem
    assert soundfile.info(tmp_path / "walk.flac").frames == 8_000 + SILENCE


def test_without_any_sound_there_is_no_file(tmp_path: Path) -> None:
    """Nor a scrap of one."""
    (tmp_path / "log").mkdir()
    parts = join_clips(
        tmp_path / "log", [("u2", KeptClip("clips/u2.flac", 1.0))], tmp_path / "a.flac"
    )
    assert parts[0].problem
    assert [path.name for path in tmp_path.iterdir()] == ["log"]


def test_what_it_joined_before_is_replaced(tmp_path: Path) -> None:
    """Exporting again is fine; the file is private, as the log is."""
    target = tmp_path / "walk.flac"
    clips = _kept(tmp_path / "log", 4_000, 4_000)
    join_clips(tmp_path / "log", clips, target)
    join_clips(tmp_path / "log", clips[:1], target)
    assert soundfile.info(target).frames == 4_000
    assert stat.S_IMODE(target.stat().st_mode) == 0o600


@pytest.mark.parametrize("makes_flac", [True, False])
def test_a_recording_of_somebody_is_never_replaced(tmp_path: Path, makes_flac: bool) -> None:
    """walk.flac may be the very recording that the log was heard from."""
    target = tmp_path / "walk.flac"
    if makes_flac:
        soundfile.write(target, _noise(100, 1), SAMPLE_RATE, format="FLAC")
    else:
        target.write_text("mine")
    before = hashlib.sha256(target.read_bytes()).digest()
    with pytest.raises(StorageFault, match="not sound that was joined") as fault:
        join_clips(tmp_path / "log", _kept(tmp_path / "log", 100), target)
    assert "--no-audio" in fault.value.hint
    assert hashlib.sha256(target.read_bytes()).digest() == before


@contextmanager
def _no_file_above(size: int) -> Iterator[None]:
    was = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, was[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, was)


def test_a_full_disk_leaves_the_earlier_file_and_no_scraps(tmp_path: Path) -> None:
    """Whole, or not at all."""
    target = tmp_path / "walk.flac"
    clips = _kept(tmp_path / "log", *[200_000] * 6)
    join_clips(tmp_path / "log", clips[:1], target)
    before = target.read_bytes()
    with _no_file_above(len(before) * 3), pytest.raises(StorageFault, match="walk.flac"):
        join_clips(tmp_path / "log", clips, target)
    assert target.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["log", "walk.flac"]


def test_progress_counts_the_clips(tmp_path: Path) -> None:
    """One call after each."""
    told: list[int] = []
    join_clips(
        tmp_path / "log", _kept(tmp_path / "log", 10, 10, 10), tmp_path / "a.flac", told.append
    )
    assert told == [1, 2, 3]


def test_a_part_given_in_seconds_lies_where_it_was_said() -> None:
    """Samples and seconds are the same place."""
    part = Part.at("u2", 1.25, 0.5)
    assert (part.start, part.samples) == (20_000, 8_000)
    assert (part.start_s, part.duration_s) == (1.25, 0.5)


def test_it_is_on_disk_before_it_has_its_name(tmp_path: Path, synced: list[str]) -> None:
    """And the draft has a name by which whoever clears up after a crash knows it."""
    drafts: list[str] = []

    def look(_: int) -> None:
        drafts.extend(path.name for path in (tmp_path / "out").iterdir())

    (tmp_path / "out").mkdir()
    clips = _kept(tmp_path / "log", 4_000)
    synced.clear()
    join_clips(tmp_path / "log", clips, tmp_path / "out" / "walk.flac", look)
    size = (tmp_path / "out" / "walk.flac").stat().st_size
    assert synced == [f"{size} bytes", "walk.flac"]
    assert [is_given(name) for name in drafts] == [True]
