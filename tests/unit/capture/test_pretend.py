"""The pretended sound system keeps sounddevice's contract, in all that makes trouble."""

from __future__ import annotations

import math
import time
from collections.abc import Iterator
from pathlib import Path
from threading import Event
from typing import Any

import numpy as np
import pytest

from voicelog.capture.devices import choose_input, inputs
from voicelog.capture.pretend import PretendError, PretendLibrary
from voicelog.capture.rehearse import played
from voicelog.capture.source import read_audio
from voicelog.errors import InputFault


def ramp(seconds: float = 1.0, channels: int = 1, rate_hz: int = 16_000) -> Iterator[np.ndarray]:
    """Numbered samples in uneven blocks."""
    count = round(seconds * rate_hz)
    whole = np.repeat((np.arange(count, dtype=np.float32) / count)[:, None], channels, axis=1)
    yield from np.array_split(whole, 7)


class Taker:
    """Copies what a callback gets, and waits for the end."""

    def __init__(self, library: PretendLibrary, **more: Any) -> None:
        self.kept: list[np.ndarray] = []
        self.copies: list[np.ndarray] = []
        self.flags: list[bool] = []
        self.adc_s: list[float] = []
        self.done = Event()
        self.stream = library.InputStream(
            device=0, channels=library.channels, samplerate=library.rate_hz, blocksize=500,
            callback=self.take, finished_callback=self.done.set, **more,
        )  # fmt: skip

    def take(self, indata: np.ndarray, frames: int, times: Any, status: Any) -> None:
        """The callback."""
        assert len(indata) == frames
        self.kept.append(indata)
        self.copies.append(indata.copy())
        self.flags.append(bool(status) and status.input_overflow)
        self.adc_s.append(times.inputBufferAdcTime)

    def run(self) -> np.ndarray:
        """Everything until the end."""
        self.stream.start()
        assert self.done.wait(5)
        self.stream.close()
        return np.concatenate(self.copies)


def test_blocks_are_of_the_size_asked_for_and_complete() -> None:
    """32 blocks of 500 frames hold the very samples, in order; then it has ended."""
    library = PretendLibrary(ramp(), speed=math.inf)
    taker = Taker(library)
    assert np.array_equal(taker.run(), np.concatenate(list(ramp())))
    assert {len(block) for block in taker.copies} == {500}
    assert library.over()
    assert not taker.stream.active


def test_buffer_is_reused() -> None:
    """Whoever keeps the array instead of a copy has rubbish."""
    taker = Taker(PretendLibrary(ramp(), speed=math.inf))
    taker.run()
    assert not np.array_equal(np.concatenate(taker.kept), np.concatenate(taker.copies))


def test_pace_is_that_of_real_time() -> None:
    """A second of sound at twenty times life takes a twentieth of a second, and never less."""
    begun = time.perf_counter()
    Taker(PretendLibrary(ramp(), speed=20.0)).run()
    assert time.perf_counter() - begun >= 0.05


def test_lost_sound_is_flagged_once_and_shows_in_the_times() -> None:
    """The block after a loss has the flag, and its time jumps by what was lost."""
    library = PretendLibrary(ramp(), speed=math.inf)
    library.overflow(0.25)
    taker = Taker(library)
    assert len(taker.run()) == 12_000
    assert taker.flags == [True] + [False] * 23
    assert taker.adc_s[0] == pytest.approx(1.25)
    assert np.diff(taker.adc_s) == pytest.approx(500 / 16_000)


def test_exception_in_the_callback_ends_the_stream() -> None:
    """As PortAudio does it: no further callback, and the finished callback is called."""
    library, done, calls = PretendLibrary(ramp(), speed=math.inf), Event(), []

    def fail(*_: object) -> None:
        calls.append(1)
        raise ValueError

    stream = library.InputStream(
        device=0, channels=1, samplerate=16_000, callback=fail, finished_callback=done.set
    )
    stream.start()
    assert done.wait(5)
    stream.close()
    assert calls == [1]
    assert not library.over()


@pytest.mark.parametrize("wrong", [{"channels": 2}, {"samplerate": 44_100}, {"device": 3}])
def test_what_the_device_cannot_is_refused(wrong: dict[str, int]) -> None:
    """Channels, rate, number."""
    with pytest.raises(PretendError):
        PretendLibrary(ramp()).InputStream(
            **{"device": 0, "channels": 1, "samplerate": 16_000, "callback": print, **wrong}
        )


def test_plug_is_noticed_only_when_started_anew() -> None:
    """As PortAudio does it: the list stays as it was, and the lost device does not open."""
    library = PretendLibrary(ramp())
    library.lose()
    assert len(inputs(library)) == 1
    with pytest.raises(PretendError):
        library.InputStream(device=0, channels=1, samplerate=16_000, callback=print)
    library._terminate()
    library._initialize()
    assert inputs(library) == ()
    library.give_back()
    assert inputs(library) == ()
    library._terminate()
    library._initialize()
    assert choose_input(None, library).index == 0


def test_starting_anew_under_an_open_stream_is_a_defect() -> None:
    """PortAudio would free it under its owner's hands."""
    library = PretendLibrary(ramp())
    taker = Taker(library)
    with pytest.raises(AssertionError):
        library._terminate()
    taker.stream.close()
    library._terminate()


def test_recordings_come_sample_for_sample_between_quiet(beckett: Path) -> None:
    """At 16 kHz the recording is given unchanged, with room noise that is no digital silence."""
    given = np.concatenate(list(played([beckett], pause_s=0.5)))[:, 0]
    pcm = np.rint(given * 32768).astype("<i2").tobytes()
    assert pcm[16_000:-16_000] == b"".join(read_audio(beckett))
    assert 0 < np.abs(given[:8000]).max() < 0.002


def test_other_rates_and_channels_keep_the_length(beckett: Path) -> None:
    """48 kHz stereo is three times as many frames, both channels alike."""
    given = np.concatenate(list(played([beckett], pause_s=0.1, rate_hz=48_000, channels=2)))
    plain = np.concatenate(list(played([beckett], pause_s=0.1)))
    assert abs(len(given) - 3 * len(plain)) < 10
    assert np.array_equal(given[:, 0], given[:, 1])


def test_damaged_recording_is_told_after_its_sound(tmp_path: Path) -> None:
    """What ended the sound is raised when asked whether it is over, not in the sound's thread."""
    file = tmp_path / "torn.wav"
    file.write_bytes(b"no sound in here")
    library = PretendLibrary(played([file], pause_s=0.1), speed=math.inf)
    assert len(Taker(library).run()) == 1600
    with pytest.raises(InputFault, match="torn"):
        library.over()
