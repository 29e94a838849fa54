"""The tones, measured: rhythm, pitch, loudness, length, and that none of them clicks or speaks."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest

from voicelog.announce.tones import CEILING_HZ, PATTERNS, SHORT_S, render
from voicelog.capture.endpoint import Endpointer
from voicelog.capture.voice import BLOCK, SileroDetector
from voicelog.domain.signal import Signal

RATE_HZ = 48_000
FREQUENT = (Signal.FINDING, Signal.REMARK, Signal.DOUBTFUL, Signal.CHANGED)
LOUDEST = (Signal.UNSAFE, Signal.MICROPHONE_LOST)


def _measured(signal: Signal) -> list[tuple[float, float]]:
    """Beginning and length in seconds of every note, from the sound alone."""
    samples = np.abs(render(signal, RATE_HZ))
    window = RATE_HZ // 200  # 5 ms: longer than a wave, shorter than a pause
    level = np.convolve(samples, np.ones(window) / window, "same")
    sounding = np.concatenate([[False], level > 0.1 * level.max(), [False]])
    edges = np.flatnonzero(np.diff(sounding.astype(int))) / RATE_HZ
    return [(on, off - on) for on, off in zip(edges[::2], edges[1::2], strict=True)]


def _lengths(signal: Signal) -> list[float]:
    return [length_s for _on_s, length_s in _measured(signal)]


def _differ(one: list[float], other: list[float]) -> bool:
    """In the number of notes, or in a note that is at least twice as long."""
    return len(one) != len(other) or any(
        max(a, b) >= 2 * min(a, b) for a, b in zip(one, other, strict=True)
    )


@pytest.mark.parametrize(("one", "other"), combinations(Signal, 2))
def test_any_two_differ_by_rhythm_alone(one: Signal, other: Signal) -> None:
    """Somebody who hears no pitch at all can still tell them apart."""
    assert _differ(_lengths(one), _lengths(other))


@pytest.mark.parametrize("signal", Signal)
def test_the_sound_has_the_rhythm_that_the_data_says(signal: Signal) -> None:
    """Every note begins where it should and lasts as long, to 20 ms."""
    begins_s, notes = 0.0, PATTERNS[signal].notes
    found = _measured(signal)
    assert len(found) == len(notes)
    for note, (on_s, length_s) in zip(notes, found, strict=True):
        assert on_s == pytest.approx(begins_s, abs=0.02)
        assert length_s == pytest.approx(note.length_s, abs=0.02)
        begins_s += note.length_s + note.pause_s


@pytest.mark.parametrize("signal", Signal)
def test_every_note_has_its_pitch(signal: Signal) -> None:
    """The spectrum's peak lies within 15 Hz of the note, and next to nothing above the ceiling."""
    samples, begins_s = render(signal, RATE_HZ), 0.0
    for note in PATTERNS[signal].notes:
        begin, end = (round(at_s * RATE_HZ) for at_s in (begins_s, begins_s + note.length_s))
        power = np.abs(np.fft.rfft(samples[begin:end], 2**17)) ** 2
        hz = np.fft.rfftfreq(2**17, 1 / RATE_HZ)
        assert hz[power.argmax()] == pytest.approx(note.hz, abs=15)
        assert power[hz > CEILING_HZ].sum() < 1e-3 * power.sum()
        begins_s += note.length_s + note.pause_s


@pytest.mark.parametrize("signal", Signal)
def test_nothing_clips_and_nothing_clicks(signal: Signal) -> None:
    """Peaks as loud as written, no step steeper than the wave itself, silence at both ends, and
    no burst above 5 kHz, where a click would show.
    """
    pattern, samples = PATTERNS[signal], render(signal, RATE_HZ)
    assert np.abs(samples).max() == pytest.approx(pattern.loudness, rel=0.03)
    highest = max(note.hz for note in pattern.notes)
    steepest = 2 * np.pi * highest * pattern.loudness / RATE_HZ
    assert np.abs(np.diff(samples)).max() < 2.2 * steepest
    assert max(abs(samples[0]), abs(samples[-1])) < 1e-3
    power = np.abs(np.fft.rfft(samples)) ** 2
    assert power[np.fft.rfftfreq(len(samples), 1 / RATE_HZ) > 5_000].sum() < 1e-6 * power.sum()


@pytest.mark.parametrize("signal", Signal)
def test_the_frequent_ones_are_short(signal: Signal) -> None:
    """At most half a second for what sounds all the time, two seconds for anything."""
    length_s = len(render(signal, RATE_HZ)) / RATE_HZ
    assert length_s == pytest.approx(PATTERNS[signal].length_s, abs=0.001)
    assert length_s <= (0.5 if signal in FREQUENT else 2.0)


def test_unsafe_and_a_lost_microphone_stand_out() -> None:
    """The loudest of all; one with the most notes, the other with the most sound."""
    quieter = [PATTERNS[s].loudness for s in Signal if s not in LOUDEST]
    assert min(PATTERNS[s].loudness for s in LOUDEST) > max(quieter)
    notes = {signal: len(PATTERNS[signal].notes) for signal in Signal}
    assert notes.pop(Signal.UNSAFE) > max(notes.values())
    sounding = {signal: sum(_lengths(signal)) for signal in Signal}
    assert sounding.pop(Signal.MICROPHONE_LOST) > 2 * max(
        sounding[s] for s in Signal if s not in (Signal.MICROPHONE_LOST, Signal.TOO_LOUD)
    )


@pytest.mark.parametrize("signal", Signal)
def test_pauses_are_long_enough_to_be_heard(signal: Signal) -> None:
    """At least 50 ms between two notes: a room's echo must not close them."""
    assert all(note.pause_s >= 0.05 for note in PATTERNS[signal].notes[:-1])
    assert PATTERNS[signal].notes[-1].pause_s == 0.0
    assert min(note.length_s for note in PATTERNS[signal].notes) >= SHORT_S


@pytest.mark.parametrize("gain", [1.0, 0.1])
def test_no_tone_is_taken_for_speech(gain: float) -> None:
    """The ear stays open during tones: all of them in a row, loud or soft, open no utterance."""
    silence = np.zeros(16_000, np.float32)
    parts = [part for signal in Signal for part in (render(signal, 16_000), silence)]
    pcm = (np.concatenate(parts) * gain * 32767).astype("<i2").tobytes()
    detector, size = SileroDetector(), 2 * BLOCK
    blocks = (pcm[at : at + size] for at in range(0, len(pcm) - size, size))
    assert max(detector.speech(block) for block in blocks) < 0.5
    endpointer = Endpointer()
    assert endpointer.feed(pcm) + endpointer.finish() == []


@pytest.mark.parametrize("rate_hz", [8_000, 22_050, 44_100, 96_000])
def test_every_rate_gives_the_same_tone(rate_hz: int) -> None:
    """As long and as loud as elsewhere; nothing folds back from above half the rate."""
    for signal in Signal:
        samples = render(signal, rate_hz)
        assert samples.dtype == np.float32
        assert len(samples) / rate_hz == pytest.approx(PATTERNS[signal].length_s, abs=0.002)
        assert np.abs(samples).max() == pytest.approx(PATTERNS[signal].loudness, rel=0.05)


def test_a_tone_is_made_once_and_cannot_be_spoilt() -> None:
    """Kept for the next time, and read-only for that reason."""
    assert render(Signal.FINDING, RATE_HZ) is render(Signal.FINDING, RATE_HZ)
    with pytest.raises(ValueError, match="read-only"):
        render(Signal.FINDING, RATE_HZ)[0] = 1.0


def test_gained_goes_up_and_given_up_goes_down() -> None:
    """Pitch helps those who hear it: listening, found and back rise; lost, refused, closed fall."""
    rising = (Signal.FINDING, Signal.LISTENING, Signal.MICROPHONE_BACK, Signal.QUESTION)
    falling = (Signal.MICROPHONE_LOST, Signal.REFUSED, Signal.FINISHED, Signal.CHANGED)
    for signals, way in ((rising, 1), (falling, -1)):
        for signal in signals:
            steps = [b.hz - a.hz for a, b in pairwise(PATTERNS[signal].notes)]
            assert all(way * step >= 0 for step in steps)
            assert any(steps)
