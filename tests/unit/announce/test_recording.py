"""Tones and sentences as files."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from voicelog.announce.recording import RATE_HZ, SAID, write_spoken, write_tones
from voicelog.announce.tones import render
from voicelog.announce.voice import Spoken
from voicelog.domain.signal import Signal
from voicelog.errors import StorageFault


def test_every_signal_is_a_file_of_its_name(tmp_path: Path) -> None:
    """In a folder that need not be there; what is in it is the tone."""
    written = write_tones(tmp_path / "new" / "sounds")
    assert [path.stem for path in written] == list(Signal)
    samples, rate_hz = soundfile.read(written[0], dtype="float32")
    assert rate_hz == RATE_HZ
    assert np.allclose(samples, render(Signal.FINDING, RATE_HZ), atol=1e-4)


def test_a_sentence_keeps_the_rate_of_its_voice(tmp_path: Path) -> None:
    """One channel."""
    path = write_spoken(tmp_path, Spoken(np.full(800, 0.5, np.float32), 22_050))
    assert path.name == SAID
    info = soundfile.info(path)
    assert (info.samplerate, info.channels, info.frames) == (22_050, 1, 800)


@pytest.mark.parametrize("inside", ["", "more"])
def test_a_folder_that_cannot_be_is_told(tmp_path: Path, inside: str) -> None:
    """Where a file stands in its place."""
    (tmp_path / "file").write_text("here already")
    with pytest.raises(StorageFault, match="cannot be written") as caught:
        write_tones(tmp_path / "file" / inside)
    assert "--write" in caught.value.hint


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    """A folder stands where it belongs."""
    (tmp_path / SAID).mkdir()
    with pytest.raises(StorageFault, match=r"said\.wav cannot be written"):
        write_spoken(tmp_path, Spoken(np.zeros(8, np.float32), 8_000))
