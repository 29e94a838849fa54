"""Bad recordings: one clear message, a next step, and nothing lost of what could be read."""

from __future__ import annotations

import io
import struct
import sys
import tempfile
from pathlib import Path

import numpy as np
import pytest
import soundfile

from voicelog.capture.source import STANDARD_INPUT, read_audio
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.errors import InputFault, StorageFault

SAMPLES = np.random.default_rng(0).integers(-3000, 3000, 3 * SAMPLE_RATE).astype(np.int16)
RATE_AT, CHANNELS_AT, DATA_SIZE_AT = 24, 22, 40
"""Where a plain WAV header keeps these (the RIFF format, Microsoft and IBM, 1991)."""


def _keep(path: Path, got: list[bytes]) -> None:
    for block in read_audio(path):
        got.append(block)  # noqa: PERF402 - what came before the fault must stay


def _drain(path: Path) -> tuple[bytes, InputFault]:
    """All that comes out, and the fault that ends it."""
    got: list[bytes] = []
    with pytest.raises(InputFault) as caught:
        _keep(path, got)
    assert caught.value.message
    assert caught.value.hint
    assert "\n" not in str(caught.value)
    return b"".join(got), caught.value


def _wav(path: Path) -> bytearray:
    soundfile.write(path, SAMPLES, SAMPLE_RATE)
    return bytearray(path.read_bytes())


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the bad recording lies."""
    return tmp_path / "bad.wav"


def test_missing_file(path: Path) -> None:
    """Named in the message."""
    got, fault = _drain(path)
    assert got == b""
    assert fault.message == f"There is no file {path}"


def test_folder(tmp_path: Path) -> None:
    """A folder is called one."""
    assert "is a folder" in _drain(tmp_path)[1].message


def test_empty_file(path: Path) -> None:
    """No bytes at all."""
    path.touch()
    assert "is empty" in _drain(path)[1].message


@pytest.mark.parametrize(
    "content", [b"left front rail\n" * 50, bytes(5000), b"\0\0\0\x20ftypisom" + bytes(400), b"RIFF"]
)
def test_not_a_recording(path: Path, content: bytes) -> None:
    """Text, zeros, another container, a header's first word."""
    path.write_bytes(content)
    assert "is not a recording that can be read" in _drain(path)[1].message


def test_raw_file_by_name(tmp_path: Path) -> None:
    """Its name says it is raw: the hint tells how to give it."""
    path = tmp_path / "take.raw"
    path.write_bytes(bytes(3200))
    assert "hear - <" in _drain(path)[1].hint


def test_recording_without_sound(path: Path) -> None:
    """A proper header and no samples."""
    soundfile.write(path, np.zeros(0, np.int16), SAMPLE_RATE)
    assert "holds no sound" in _drain(path)[1].message


def test_unreadable_file(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody else's file."""

    def refuse(self: Path, mode: str = "r") -> None:
        raise PermissionError(13, "Permission denied", str(self))

    _wav(path)
    monkeypatch.setattr(Path, "open", refuse)
    assert _drain(path)[1].message == f"{path} cannot be read (Permission denied)"


@pytest.mark.parametrize("kept", [0.9, 0.5, 0.05])
def test_truncated_wav_gives_all_it_has(path: Path, kept: float) -> None:
    """Every sample that is there comes out before the fault, which names both lengths."""
    whole = _wav(path)
    path.write_bytes(whole[: int(len(whole) * kept)])
    got, fault = _drain(path)
    there = (int(len(whole) * kept) - 44) // 2
    assert got == SAMPLES[: len(got) // 2].tobytes()
    assert there - 1 <= len(got) // 2 <= there
    assert f"breaks off after {there / SAMPLE_RATE:.1f} s of the 3.0 s" in fault.message


def test_truncated_flac_gives_whole_frames(tmp_path: Path) -> None:
    """What was decoded before the decoder gave up comes out, unaltered."""
    path = tmp_path / "a.flac"
    soundfile.write(path, SAMPLES, SAMPLE_RATE)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    got, fault = _drain(path)
    assert len(got) / 2 > 0.4 * len(SAMPLES)
    assert got == SAMPLES[: len(got) // 2].tobytes()
    assert "of the 3.0 s" in fault.message


def test_truncated_ogg_gives_what_it_has(tmp_path: Path) -> None:
    """A stream without its end is told apart from a short one."""
    path = tmp_path / "a.ogg"
    soundfile.write(path, SAMPLES, SAMPLE_RATE)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) * 3 // 4])
    got, fault = _drain(path)
    assert len(got) / 2 > SAMPLE_RATE
    assert "breaks off" in fault.message


def test_endless_wav_header_is_no_fault(path: Path) -> None:
    """Writers into a pipe put the largest size there is: the file is whole all the same."""
    wav = _wav(path)
    wav[DATA_SIZE_AT : DATA_SIZE_AT + 4] = b"\xff" * 4
    path.write_bytes(wav)
    assert b"".join(read_audio(path)) == SAMPLES.tobytes()


@pytest.mark.parametrize(
    ("at", "field"),
    [
        (RATE_AT, struct.pack("<I", 1)),
        (RATE_AT, struct.pack("<I", 0x7FFFFFFF)),
        (RATE_AT, struct.pack("<I", 0)),
        (CHANNELS_AT, struct.pack("<H", 0)),
        (CHANNELS_AT, struct.pack("<H", 60_000)),
        (34, struct.pack("<H", 99)),
        (DATA_SIZE_AT, struct.pack("<I", 0)),
    ],
)
def test_lying_header(path: Path, at: int, field: bytes) -> None:
    """Impossible rates, channels, sample sizes; a size of nothing before three seconds."""
    wav = _wav(path)
    wav[at : at + len(field)] = field
    path.write_bytes(wav)
    assert _drain(path)[0] == b""


def test_samples_that_are_no_numbers(path: Path) -> None:
    """They become silence, the rest comes out, and the fault counts them."""
    samples = np.full(4000, 0.25)
    samples[[5, 6, 3000]] = [np.nan, np.inf, -np.inf]
    soundfile.write(path, samples, SAMPLE_RATE, subtype="FLOAT")
    got, fault = _drain(path)
    read = np.frombuffer(got, "<i2")
    assert len(read) == 4000
    assert np.flatnonzero(read != 8192).tolist() == [5, 6, 3000]
    assert "3 samples that are no numbers" in fault.message


def test_nothing_on_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty pipe."""
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BufferedReader(io.BytesIO())))
    assert "held no sound" in _drain(STANDARD_INPUT)[1].message


def test_keyboard_on_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody types samples: say so instead of waiting."""
    keyboard = io.TextIOWrapper(io.BufferedReader(io.BytesIO()))
    monkeypatch.setattr(keyboard, "isatty", lambda: True, raising=False)
    monkeypatch.setattr(sys, "stdin", keyboard)
    assert "keyboard" in _drain(STANDARD_INPUT)[1].message


def test_truncated_file_on_standard_input(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same rule as for a file by name."""
    wav = _wav(path)
    half = io.BytesIO(bytes(wav[: len(wav) // 2]))
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BufferedReader(half)))
    got, fault = _drain(STANDARD_INPUT)
    assert got == SAMPLES[: len(got) // 2].tobytes()
    assert fault.message.startswith("Standard input breaks off")


def test_no_room_to_set_a_piped_file_aside(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk is a storage fault with a next step."""

    class Full(io.BytesIO):
        """A file on a full disk."""

        def write(self, data: object, /) -> int:
            """Refuse."""
            raise OSError(28, "No space left on device", data)

    piped = io.BufferedReader(io.BytesIO(bytes(_wav(path))))
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(piped))
    monkeypatch.setattr(tempfile, "TemporaryFile", Full)
    with pytest.raises(StorageFault, match="No space left"):
        list(read_audio(STANDARD_INPUT))
