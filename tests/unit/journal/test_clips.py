"""The sound of utterances on disk."""

from __future__ import annotations

import hashlib
import stat
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import soundfile

from voicelog.domain.sound import Clip
from voicelog.domain.utterance import KeptClip
from voicelog.errors import InputFault
from voicelog.journal import clips
from voicelog.journal.clips import read_clip, to_flac, write_clip


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


def test_no_clip_begins_before_its_source(tmp_path: Path, clip: Clip) -> None:
    """The quiet put before an utterance may reach there; a log that said so could not be opened."""
    assert write_clip(tmp_path, "u2", replace(clip, start_s=-0.2))["start_s"] == 0.0


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


@pytest.fixture
def kept(tmp_path: Path, clip: Clip) -> KeptClip:
    """A clip on disk, as its fact tells it."""
    told = write_clip(tmp_path, "u7", clip)
    return KeptClip(told["file"], told["duration_s"], told["start_s"], told["sha256"])


def test_sound_comes_back_as_it_was_kept(tmp_path: Path, clip: Clip, kept: KeptClip) -> None:
    """Sample for sample, at its place in the source."""
    read = read_clip(tmp_path, kept)
    assert read.pcm == clip.pcm
    assert (read.start_s, read.duration_s, read.speech_end_s) == (12.5, 0.1, pytest.approx(12.6))


def test_sound_that_is_gone_is_told(tmp_path: Path, kept: KeptClip) -> None:
    """Erased on purpose or lost: the words are left, and it says so."""
    (tmp_path / kept.file).unlink()
    with pytest.raises(InputFault, match=r"clips/u7\.flac is not there: it was erased, or is lost"):
        read_clip(tmp_path, kept)


@pytest.mark.parametrize(
    "harm", [lambda data: data[:-40], lambda data: data[:50] + b"x" + data[51:]]
)
def test_sound_that_is_not_what_was_kept_is_told(
    tmp_path: Path, kept: KeptClip, harm: Callable[[bytes], bytes]
) -> None:
    """Cut short, or altered by a byte: its hash is another."""
    path = tmp_path / kept.file
    path.write_bytes(harm(path.read_bytes()))
    with pytest.raises(InputFault, match="altered or cut short"):
        read_clip(tmp_path, kept)


@pytest.mark.parametrize("data", [b"", b"no sound at all", b"fLaC"])
def test_what_is_no_sound_is_told_without_a_hash_too(
    tmp_path: Path, kept: KeptClip, data: bytes
) -> None:
    """Older facts may have none."""
    (tmp_path / kept.file).write_bytes(data)
    with pytest.raises(InputFault, match="damaged"):
        read_clip(tmp_path, replace(kept, sha256=""))


@pytest.mark.parametrize("high_bits", [0x00, 0x04, 0x0F])
def test_a_header_that_promises_years_of_sound_costs_no_memory(
    tmp_path: Path, kept: KeptClip, high_bits: int
) -> None:
    """FLAC gives the length in 36 bits: what it says is not believed before it is read."""
    data = bytearray((tmp_path / kept.file).read_bytes())
    data[21] |= high_bits
    data[22:26] = b"\x7f\xff\xff\xff"
    (tmp_path / kept.file).write_bytes(data)
    with pytest.raises(InputFault, match="cut short|damaged"):
        read_clip(tmp_path, replace(kept, sha256=""))


@pytest.mark.parametrize(("rate_hz", "channels"), [(8_000, 1), (16_000, 2)])
def test_sound_of_another_shape_is_told(
    tmp_path: Path, kept: KeptClip, rate_hz: int, channels: int
) -> None:
    """It would be played at the wrong speed, or twice as long."""
    samples = np.zeros((800, channels), np.int16)
    soundfile.write(tmp_path / kept.file, samples, rate_hz, subtype="PCM_16")
    with pytest.raises(InputFault, match="not 16 kHz with one channel"):
        read_clip(tmp_path, replace(kept, sha256=""))


@pytest.mark.parametrize(
    "file", ["../secret.flac", "/etc/secret.flac", "clips/../../x.flac", "journal.jsonl", "", "a\x1b[2J"]
)  # fmt: skip
def test_no_sound_is_read_from_outside_the_clips(tmp_path: Path, kept: KeptClip, file: str) -> None:
    """A log from elsewhere may name anything; what it names is shown inert."""
    with pytest.raises(InputFault, match="no sound inside the log") as told:
        read_clip(tmp_path, replace(kept, file=file))
    assert "\x1b" not in str(told.value)


def test_a_link_does_not_lead_out_of_the_clips(tmp_path: Path, kept: KeptClip) -> None:
    """Nor does a name that looks harmless."""
    outside = tmp_path / "outside.flac"
    (tmp_path / kept.file).rename(outside)
    (tmp_path / kept.file).symlink_to(outside)
    with pytest.raises(InputFault, match="no sound inside the log"):
        read_clip(tmp_path, kept)


def test_sound_that_cannot_be_read_is_told(tmp_path: Path, kept: KeptClip) -> None:
    """A folder of that name is no file of the log, as a link or a pipe is none."""
    (tmp_path / kept.file).unlink()
    (tmp_path / kept.file).mkdir()
    with pytest.raises(InputFault, match="is no sound inside the log"):
        read_clip(tmp_path, kept)


def test_its_length_is_told_to_a_tenth_of_a_millisecond(tmp_path: Path, clip: Clip) -> None:
    """As its place is."""
    kept = write_clip(tmp_path, "u7", replace(clip, pcm=clip.pcm + b"\x01\x00"))
    assert (kept["samples"], kept["duration_s"]) == (1601, 0.1001)


def test_sound_under_another_name_is_on_disk_before_its_own_is_taken(
    tmp_path: Path, clip: Clip, synced: list[str]
) -> None:
    """A power cut between the two must not leave only the later one."""
    write_clip(tmp_path, "u7", clip)
    synced.clear()
    write_clip(tmp_path, "u7", replace(clip, pcm=clip.pcm[:200]))
    assert synced[0] == "u7.orphan-1.flac"
    assert synced[-1] == "u7.flac u7.orphan-1.flac"


def test_no_clip_is_longer_than_five_minutes(tmp_path: Path, kept: KeptClip) -> None:
    """An utterance is cut after half a minute; what is longer is none, and is not held in memory."""
    for more, told in ((0, None), (1, "cut short")):
        silence = np.zeros(300 * 16_000 + more, np.int16)
        soundfile.write(tmp_path / kept.file, silence, 16_000, subtype="PCM_16")
        with pytest.raises(InputFault, match=told) if told else nullcontext():
            assert read_clip(tmp_path, replace(kept, sha256="")).duration_s == 300.0


@pytest.mark.parametrize(("more", "told"), [(0, "damaged"), (1, "larger than any sound")])
def test_no_file_of_sound_is_larger_than_16_mib(
    tmp_path: Path, kept: KeptClip, more: int, told: str
) -> None:
    """One that is takes no room on the disk, and would in memory."""
    with (tmp_path / kept.file).open("wb") as file:
        file.truncate(16 * 1024 * 1024 + more)
    with pytest.raises(InputFault, match=told):
        read_clip(tmp_path, replace(kept, sha256=""))


@pytest.mark.parametrize(
    ("refusal", "why"),
    [(PermissionError(13, "Permission denied"), "Permission denied"), (OSError(), "OSError")],
)
def test_sound_that_the_disk_refuses_is_told(
    tmp_path: Path, kept: KeptClip, monkeypatch: pytest.MonkeyPatch, refusal: OSError, why: str
) -> None:
    """With the system's reason, where it gives one."""

    def refuse(_: Path) -> None:
        raise refusal

    monkeypatch.setattr(clips, "opened_own", refuse)
    with pytest.raises(InputFault, match=rf"clips/u7\.flac cannot be read \({why}\)"):
        read_clip(tmp_path, kept)


@pytest.mark.parametrize(("letters", "told"), [(200, "is not there"), (201, "no sound inside")])
def test_a_name_longer_than_any_clip_s_is_not_one_that_is_lost(
    tmp_path: Path, kept: KeptClip, letters: int, told: str
) -> None:
    """It was never given."""
    name = f"clips/{'u' * (letters - len('clips/.flac'))}.flac"
    with pytest.raises(InputFault, match=told):
        read_clip(tmp_path, replace(kept, file=name))
