"""Reading recordings: every kind, rate and number of channels, streamed, in bounded memory."""

from __future__ import annotations

import io
import os
import struct
import sys
import threading
import tracemalloc
from pathlib import Path

import numpy as np
import pytest
import soundfile

from voicelog.capture.source import STANDARD_INPUT, read_audio
from voicelog.domain.sound import SAMPLE_RATE

TONE_HZ = 440.0


def _tone(rate: int, seconds: float = 1.0) -> np.ndarray:
    return 0.5 * np.sin(2 * np.pi * TONE_HZ * np.arange(int(rate * seconds)) / rate)


def _read(path: Path) -> np.ndarray:
    return np.frombuffer(b"".join(read_audio(path)), "<i2")


def _pitch_hz(samples: np.ndarray) -> float:
    return float(np.argmax(np.abs(np.fft.rfft(samples))) * SAMPLE_RATE / len(samples))


def _pipe_in(monkeypatch: pytest.MonkeyPatch, data: bytes) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BufferedReader(io.BytesIO(data))))


@pytest.mark.parametrize("rate", [8_000, 11_025, 16_000, 22_050, 44_100, 48_000, 96_000])
@pytest.mark.parametrize("kind", ["wav", "flac", "ogg"])
def test_every_kind_and_rate_keeps_length_and_pitch(tmp_path: Path, kind: str, rate: int) -> None:
    """One second of 440 Hz stays one second of 440 Hz at 16 kHz, at its level."""
    if kind == "ogg" and rate == 96_000:
        rate = 32_000
    path = tmp_path / f"tone.{kind}"
    soundfile.write(path, _tone(rate), rate)
    samples = _read(path)
    assert len(samples) == pytest.approx(SAMPLE_RATE, abs=80)
    assert _pitch_hz(samples) == pytest.approx(TONE_HZ, abs=1.0)
    assert samples[2000:14000].std() / 32768 == pytest.approx(0.5 / np.sqrt(2), rel=0.02)


@pytest.mark.parametrize("channels", [1, 2, 6, 8])
def test_channels_are_mixed_to_their_mean(tmp_path: Path, channels: int) -> None:
    """Channels at different levels come out at the mean of them."""
    levels = np.linspace(0.2, 0.8, channels)
    path = tmp_path / "many.wav"
    soundfile.write(path, np.tile(levels, (1600, 1)), SAMPLE_RATE, subtype="PCM_24")
    assert _read(path) == pytest.approx(levels.mean() * 32768, abs=1.0)


def test_16_khz_mono_comes_out_bit_for_bit(tmp_path: Path) -> None:
    """What is already right is not touched, the extremes included."""
    samples = np.random.default_rng(1).integers(-32768, 32768, 40_000).astype(np.int16)
    soundfile.write(tmp_path / "a.flac", samples, SAMPLE_RATE)
    assert np.array_equal(_read(tmp_path / "a.flac"), samples)


def test_loud_float_samples_are_clipped_not_wrapped(tmp_path: Path) -> None:
    """A float file may go beyond full scale; it must not turn into its opposite."""
    soundfile.write(tmp_path / "a.wav", np.array([4.0, -4.0] * 800), SAMPLE_RATE, subtype="FLOAT")
    assert _read(tmp_path / "a.wav")[:2].tolist() == [32767, -32768]


def test_resampling_in_blocks_leaves_no_seams(tmp_path: Path) -> None:
    """A slow tone over many blocks: no step between samples is larger than the tone's own."""
    path, rate = tmp_path / "long.flac", 44_100
    sound = 0.5 * np.sin(2 * np.pi * 50 * np.arange(rate * 10) / rate)
    soundfile.write(path, sound, rate)
    samples = _read(path).astype(float) / 32768
    steepest = 0.5 * 2 * np.pi * 50 / SAMPLE_RATE
    assert np.abs(np.diff(samples[200:-200])).max() < steepest * 1.05


def test_progress_goes_from_block_to_the_end(tmp_path: Path) -> None:
    """It rises, knows the whole, and ends there."""
    path, told = tmp_path / "a.wav", list[tuple[float, float | None]]()
    soundfile.write(path, _tone(SAMPLE_RATE, 12.0), SAMPLE_RATE)
    blocks = list(read_audio(path, progress=lambda done, total: told.append((done, total))))
    assert len(blocks) >= 3
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert told[-1] == (12.0, 12.0)


def test_three_hours_take_no_more_memory_than_a_minute(tmp_path: Path) -> None:
    """A three-hour recording is resampled within a few megabytes."""
    path, rate, seconds = tmp_path / "shift.wav", 8_000, 3 * 3600
    soundfile.write(path, np.zeros(1, np.int16), rate)
    with path.open("r+b") as file:  # a file of zeros that takes no room on the disk
        header, size = bytearray(file.read(44)), seconds * rate * 2
        struct.pack_into("<I", header, 4, size + 36)
        struct.pack_into("<I", header, 40, size)
        file.seek(0)
        file.write(header)
        file.truncate(44 + size)
    tracemalloc.start()
    length = sum(len(block) for block in read_audio(path))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert length == pytest.approx(seconds * SAMPLE_RATE * 2, abs=100)
    assert peak < 4_000_000


def test_raw_samples_come_from_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    """Raw PCM is passed on as it is; half a sample at the end is not a sample."""
    raw = bytes(range(256)) * 300
    _pipe_in(monkeypatch, raw + b"\x01")
    assert b"".join(read_audio(STANDARD_INPUT)) == raw


def test_live_stream_is_not_held_back(monkeypatch: pytest.MonkeyPatch) -> None:
    """A block comes out although the sender has not closed the pipe."""
    reading, writing = os.pipe()
    with os.fdopen(reading, "rb") as end, os.fdopen(writing, "wb", 0) as sender:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(end))
        sender.write(b"\x01\x02" * 1000)
        blocks = read_audio(STANDARD_INPUT)
        got = [next(blocks)]
        while sum(map(len, got)) < 2000:
            got.append(next(blocks))
        assert b"".join(got) == b"\x01\x02" * 1000


@pytest.mark.parametrize("kind", ["wav", "flac", "ogg"])
def test_piped_file_is_decoded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str) -> None:
    """A file in the pipe gives what the file by name gives."""
    path = tmp_path / f"a.{kind}"
    soundfile.write(path, _tone(22_050), 22_050)
    by_name = _read(path)
    _pipe_in(monkeypatch, path.read_bytes())
    assert np.array_equal(_read(STANDARD_INPUT), by_name)


def test_named_pipe_is_read_as_a_stream(tmp_path: Path) -> None:
    """What a shell makes of <(…) cannot be sought in; it is read like standard input."""
    path, raw = tmp_path / "pipe", b"\x05\x00" * 5000
    os.mkfifo(path)
    sender = threading.Thread(target=path.write_bytes, args=(raw,))
    sender.start()
    got = b"".join(read_audio(path))
    sender.join()
    assert got == raw
