"""Noise and rooms: as loud as they say they are."""

from __future__ import annotations

import numpy as np
import pytest
from yardstick.noises import KEPT_OUT, TUNING, Condition, echoing, make_noise, mixed
from yardstick.talkers import RADIO_HERTZ, laid, music, narrow, radio_scene
from yardstick.voices import Sound, studio

from voicelog.domain.sound import SAMPLE_RATE

SECONDS = 2
LENGTH = SECONDS * SAMPLE_RATE


def _speech() -> Sound:
    """Two seconds of a steady tone at the studio's speech level."""
    tone = np.sin(2 * np.pi * 440 * np.arange(LENGTH) / SAMPLE_RATE)
    return np.asarray(tone * np.sqrt(2) * studio().amplitude(studio().SPEECH_DBFS))


def _power_db(sound: Sound) -> float:
    return float(10 * np.log10(np.mean(np.square(sound))))


@pytest.mark.parametrize("kind", sorted({*TUNING, *KEPT_OUT}))
@pytest.mark.parametrize("snr_db", [20.0, 0.0])
def test_speech_lies_so_many_decibels_over_the_noise(kind: str, snr_db: float) -> None:
    """Measured where the speech is; what is left after taking the speech away is the noise."""
    make, speech = studio(), _speech()
    sound = mixed(speech, Condition("x", snr_db), kind, np.random.default_rng(1))
    lead = int(make.LEAD_S * SAMPLE_RATE)
    there = sound[lead : lead + LENGTH]
    scale = float(np.dot(there, speech) / np.dot(speech, speech))  # turned down before it clips
    noise = there - scale * speech
    assert _power_db(scale * speech) - _power_db(noise) == pytest.approx(snr_db, abs=0.3)


@pytest.mark.parametrize("kind", ["pink", *sorted({*TUNING, *KEPT_OUT})])
def test_noise_alone_has_power_one_and_hangs_on_the_seed(kind: str) -> None:
    """So that a level in decibels is all there is to set."""
    first, again, other = (make_noise(kind, LENGTH, np.random.default_rng(n)) for n in (1, 1, 2))
    assert _power_db(first) == pytest.approx(0.0, abs=1e-6)
    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)


def test_a_room_changes_the_sound_and_not_its_level() -> None:
    """Its tail goes on after the speech for as long as the room rings."""
    speech = np.concatenate([_speech(), np.zeros(100)])
    heard = echoing(speech, 0.5, np.random.default_rng(1))
    assert np.sum(np.square(heard)) == pytest.approx(np.sum(np.square(speech)))
    tail = heard[len(speech) :]
    assert _power_db(tail[: SAMPLE_RATE // 10]) > _power_db(tail[-SAMPLE_RATE // 10 :]) + 20


def test_the_radio_is_as_narrow_as_a_small_loudspeaker() -> None:
    """Nothing is left outside its band."""
    sound = narrow(np.random.default_rng(1).standard_normal(LENGTH))
    power = np.square(np.abs(np.fft.rfft(sound)))
    hertz = np.fft.rfftfreq(LENGTH, 1 / SAMPLE_RATE)
    inside = (hertz >= RADIO_HERTZ[0]) & (hertz <= RADIO_HERTZ[1])
    assert power[~inside].sum() < 1e-9 * power.sum()


class _Beeps:
    """Says the same beep again and again."""

    def next(self) -> Sound:
        """Half a second."""
        return _speech()[: SAMPLE_RATE // 2]


def test_lines_are_laid_with_pauses_and_none_is_cut() -> None:
    """A line that does not fit any more is left out."""
    sound = laid(_Beeps(), 10, np.random.default_rng(1), (1.0, 2.0), (0.0, 0.0))  # type: ignore[arg-type]
    assert len(sound) == 10 * SAMPLE_RATE
    silent = np.convolve(np.abs(sound), np.ones(160) / 160, "same") < 1e-4
    edges = np.flatnonzero(np.diff(silent.astype(int)))
    said = np.diff(edges)[::2] / SAMPLE_RATE
    pauses = np.diff(edges)[1::2] / SAMPLE_RATE
    assert said == pytest.approx(0.5, abs=0.02)
    assert pauses.min() > 0.97
    assert pauses.max() < 2.0


def test_a_radio_plays_music_under_its_words() -> None:
    """Also while it says nothing."""
    sound = radio_scene(_Beeps(), 10, np.random.default_rng(1))  # type: ignore[arg-type]
    assert _power_db(music(LENGTH, np.random.default_rng(1))) == pytest.approx(0.0, abs=1e-6)
    assert _power_db(sound[:1600]) > -80
