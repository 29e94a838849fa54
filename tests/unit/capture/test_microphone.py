"""A microphone on the pretended sound system: opening, hearing, closing."""

from __future__ import annotations

import math
from pathlib import Path
from threading import Timer
from typing import Any

import numpy as np
import pytest

from voicelog.capture.incoming import Back, Dropped, Ended, Gone, Incoming, Sound
from voicelog.capture.microphone import Microphone
from voicelog.capture.pretend import PretendLibrary
from voicelog.capture.rehearse import microphone_of, rehearsal
from voicelog.capture.source import read_audio
from voicelog.errors import InputFault, MicrophoneFault


def tone(seconds: float, *, rate_hz: int = 16_000, channels: int = 1, peak: float = 0.5) -> Any:
    """A tone of 440 Hz, in one block."""
    at = np.arange(round(seconds * rate_hz)) / rate_hz
    wave = (peak * np.sin(2 * np.pi * 440 * at)).astype(np.float32)
    return [np.repeat(wave[:, None], channels, axis=1)]


def to_the_end(microphone: Microphone) -> list[Incoming]:
    """Everything until Ended, which is left out."""
    came: list[Incoming] = []
    while not isinstance(one := microphone.read(1.0), Ended):
        assert one is not None
        came.append(one)
    microphone.close()
    return came


def pcm_of(came: list[Incoming]) -> bytes:
    """The sound of it."""
    return b"".join(one.pcm for one in came if isinstance(one, Sound))


def test_recording_comes_out_sample_for_sample(beckett: Path) -> None:
    """At 16 kHz nothing is changed on the way, and nothing but sound comes."""
    microphone, _ = rehearsal([beckett], speed=math.inf)
    came = to_the_end(microphone)
    assert {type(one) for one in came} == {Sound}
    assert b"".join(read_audio(beckett)) in pcm_of(came)


@pytest.mark.parametrize(("rate_hz", "channels"), [(48_000, 2), (44_100, 1), (8_000, 6)])
def test_any_rate_and_channels_become_16_khz_mono(rate_hz: int, channels: int) -> None:
    """Length, level and pitch stay."""
    library = PretendLibrary(
        tone(2.0, rate_hz=rate_hz, channels=channels),
        rate_hz=rate_hz, channels=channels, speed=math.inf,
    )  # fmt: skip
    samples = np.frombuffer(pcm_of(to_the_end(microphone_of(library))), "<i2")
    assert len(samples) == pytest.approx(32_000, abs=2)
    spectrum = np.abs(np.fft.rfft(samples[8000:24_000]))
    assert int(spectrum.argmax()) == 440
    assert np.abs(samples).max() == pytest.approx(16_384, rel=0.02)


def test_moments_are_those_of_the_sources_clock() -> None:
    """Each block says when its last sample came in."""
    library = PretendLibrary(tone(1.0), speed=math.inf)
    came = to_the_end(microphone_of(library))
    ends = np.cumsum([len(one.pcm) / 32_000 for one in came if isinstance(one, Sound)])
    assert [one.at_s for one in came if isinstance(one, Sound)] == pytest.approx(ends, abs=0.04)


@pytest.mark.parametrize(("peak", "clipped"), [(0.99, False), (1.0, True)])
def test_sound_at_the_limit_is_marked(peak: float, clipped: bool) -> None:
    """What a converter at its limit gives, and what it gives just below."""
    came = to_the_end(microphone_of(PretendLibrary(tone(0.5, peak=peak), speed=math.inf)))
    assert any(one.clipped for one in came if isinstance(one, Sound)) is clipped


def test_damaged_recording_is_told_after_all_of_its_sound(tmp_path: Path, beckett: Path) -> None:
    """In a rehearsal, a torn file raises from read, once everything before it was read."""
    torn = tmp_path / "torn.wav"
    torn.write_bytes(beckett.read_bytes()[:100_000])
    microphone, _ = rehearsal([torn], speed=math.inf, pause_s=0.5)
    heard: list[Incoming] = []
    with pytest.raises(InputFault, match="breaks off"):
        heard.extend(iter(lambda: microphone.read(1.0), Ended()))
    assert len(pcm_of(heard)) > 100_000
    assert microphone.read(0.1) == Ended()
    microphone.close()


def test_loss_at_speed_and_back(beckett: Path) -> None:
    """Pulled in the middle of a recording and put back: all of its sound comes, in order."""
    microphone, library = rehearsal([beckett], speed=40.0)
    came: list[Incoming] = []
    lost = False
    while not isinstance(one := microphone.read(0.05), Ended):
        came.extend((one,) if one is not None else ())
        if len(pcm_of(came)) > 100_000 and not lost:
            lost = True
            library.lose()
            Timer(0.1, library.give_back).start()
    microphone.close()
    kinds = [type(one) for one in came if not isinstance(one, Sound)]
    assert kinds == [Gone, Back]
    away = next(one for one in came if isinstance(one, Back))
    assert away.away_s > 3.0
    assert b"".join(read_audio(beckett)) in pcm_of(came)


def test_overflow_in_a_rehearsal_is_told_with_its_length() -> None:
    """The device's own clock says how much; without one it is not known."""
    for has_clock, told in ((True, 0.5), (False, 0.0)):
        library = PretendLibrary(tone(4.0), speed=40.0)
        library.fate.has_clock = has_clock
        microphone = microphone_of(library)
        assert isinstance(microphone.read(1.0), Sound)
        library.overflow(0.5)
        came = to_the_end(microphone)
        lost = [one.lost_s for one in came if isinstance(one, Dropped)]
        assert lost == [pytest.approx(told, abs=1e-6)]


def test_closing_from_another_thread_wakes_the_reader() -> None:
    """A reader that waits long is not left waiting."""
    library = PretendLibrary(tone(60.0))
    library.stall()
    microphone = microphone_of(library, silent_after_s=1e9)
    Timer(0.05, microphone.close).start()
    while microphone.read(30.0) != Ended():
        pass
    assert microphone.read(0.0) == Ended()


def test_no_microphone_is_told_at_once() -> None:
    """Nothing plugged in, and one that does not open."""
    library = PretendLibrary(tone(1.0), name="lapel")
    with pytest.raises(MicrophoneFault, match="no microphone 'desk'"):
        microphone_of(library, wanted="desk")
    library.lose()
    with pytest.raises(MicrophoneFault, match="'lapel' cannot be opened"):
        microphone_of(library)
