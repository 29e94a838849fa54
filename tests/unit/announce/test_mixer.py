"""Two lanes in one stream: tones at once, words around them, and silence at a word."""

from __future__ import annotations

import numpy as np
import pytest

from voicelog.announce.mixer import BEHIND_S, FADE_S, Mixer

RATE_HZ = 8_000
FADE = round(FADE_S * RATE_HZ)


def _ramp(frames: int) -> np.ndarray:
    """Words whose every sample tells its place; small enough never to clip."""
    return np.arange(1, frames + 1, dtype=np.float32) / 10_000


def _all(mixer: Mixer, block: int) -> np.ndarray:
    parts = []
    while mixer.left():
        parts.append(mixer.take(block))
    return np.concatenate(parts)


def test_nothing_in_is_silence_out() -> None:
    """As many samples as asked for."""
    mixer = Mixer(RATE_HZ)
    assert not mixer.take(50).any()
    assert mixer.left() == 0


@pytest.mark.parametrize("block", [1, 7, 64, 5_000])
def test_words_come_out_whole_whatever_the_block(block: int) -> None:
    """Let in softly, then sample by sample, two sentences in a row."""
    mixer = Mixer(RATE_HZ)
    assert mixer.put(_ramp(500), tone=False) == 0
    assert mixer.put(_ramp(300), tone=False) == 500
    out = _all(mixer, block)
    assert np.allclose(out[FADE:500], _ramp(500)[FADE:])
    assert np.allclose(out[500:800], _ramp(300))
    assert not out[800:].any()


@pytest.mark.parametrize("block", [1, 13, 160, 4_000])
def test_a_tone_comes_at_once_and_the_words_go_on_after_it(block: int) -> None:
    """Nothing of the words is lost but what fades at the cut; a tone in a sentence's middle."""
    mixer = Mixer(RATE_HZ)
    mixer.put(_ramp(1_000), tone=False)
    before = mixer.take(400)
    assert mixer.put(np.full(300, 0.5, np.float32), tone=True) == 0
    out = np.concatenate([before, _all(mixer, block)])
    assert np.allclose(out[400 + FADE : 700], 0.5)
    after = out[700 : 700 + 600 - FADE]
    assert np.allclose(after[FADE:], _ramp(1_000)[400 + 2 * FADE :])


def test_the_cut_does_not_click() -> None:
    """Neither where words stand still, nor where they come back, nor with the smallest blocks."""
    for block in (1, 16, 500):
        mixer = Mixer(RATE_HZ)
        mixer.put(np.full(2_000, 0.5, np.float32), tone=False)
        before = mixer.take(300)
        mixer.put(np.zeros(200, np.float32), tone=True)
        out = np.concatenate([before, _all(mixer, block)])[:1_900]
        assert np.abs(np.diff(out)).max() <= 0.5 / FADE + 1e-6


def test_words_put_behind_a_tone_wait_for_its_end() -> None:
    """The answer's tone, then the answer."""
    mixer = Mixer(RATE_HZ)
    mixer.put(np.full(100, 0.5, np.float32), tone=True)
    assert mixer.put(np.full(100, 0.25, np.float32), tone=False) == 100
    out = mixer.take(200)
    assert np.allclose(out[:100], 0.5)
    assert np.allclose(out[100 + FADE :], 0.25)


def test_tones_keep_their_order() -> None:
    """Two at a time would be a third."""
    mixer = Mixer(RATE_HZ)
    mixer.put(np.full(50, 0.1, np.float32), tone=True)
    assert mixer.put(np.full(50, 0.2, np.float32), tone=True) == 50
    assert np.allclose(mixer.take(100), [0.1] * 50 + [0.2] * 50)


def test_stopping_fades_out_and_forgets_the_rest() -> None:
    """Silent within the fade, without a step, and ready for the next."""
    mixer = Mixer(RATE_HZ)
    mixer.put(np.full(4_000, 0.5, np.float32), tone=False)
    before = mixer.take(500)
    mixer.stop()
    out = np.concatenate([before, mixer.take(300)])
    assert np.abs(np.diff(out[FADE:])).max() <= 0.5 / FADE + 1e-2
    assert not out[500 + FADE :].any()
    assert mixer.left() == 0


def test_a_tone_after_a_stop_comes_at_once() -> None:
    """Over the end of the fade."""
    mixer = Mixer(RATE_HZ)
    mixer.put(np.full(4_000, 0.2, np.float32), tone=False)
    mixer.take(500)
    mixer.stop()
    assert mixer.put(np.full(200, 0.5, np.float32), tone=True) == 0
    out = mixer.take(200)
    assert out[0] == pytest.approx(0.7, abs=0.02)
    assert np.allclose(out[FADE:], 0.5)


def test_stopping_words_lets_a_tone_ring() -> None:
    """What comes next in words must not cut the tone that it belongs to."""
    mixer = Mixer(RATE_HZ)
    mixer.put(np.full(300, 0.5, np.float32), tone=True)
    mixer.put(np.full(4_000, 0.2, np.float32), tone=False)
    before = mixer.take(100)
    mixer.stop(words_only=True)
    out = np.concatenate([before, mixer.take(400)])
    assert np.allclose(out[:300], 0.5)
    assert not out[300:].any()


def test_stopped_words_fade_without_a_step() -> None:
    """As they do when everything is stopped; a second stop does not cut the fade."""
    mixer = Mixer(RATE_HZ)
    mixer.put(np.full(4_000, 0.5, np.float32), tone=False)
    before = mixer.take(500)
    mixer.stop(words_only=True)
    some = mixer.take(20)
    mixer.stop(words_only=True)
    out = np.concatenate([before, some, mixer.take(300)])
    assert np.abs(np.diff(out[FADE:])).max() <= 0.5 / FADE + 1e-6
    assert not out[500 + FADE :].any()


def test_stopping_silence_leaves_nothing_to_play() -> None:
    """No tail of nothing."""
    mixer = Mixer(RATE_HZ)
    mixer.stop()
    assert mixer.left() == 0


def test_words_left_are_told_apart_from_tones_left() -> None:
    """Words behind a tone have the tone's time to go as well."""
    mixer = Mixer(RATE_HZ)
    mixer.put(np.ones(100, np.float32), tone=True)
    assert (mixer.left(), mixer.left(words_only=True)) == (100, 0)
    mixer.put(np.ones(50, np.float32), tone=False)
    assert (mixer.left(), mixer.left(words_only=True)) == (150, 150)


def test_what_is_too_loud_together_is_clipped_not_wrapped() -> None:
    """A fade under a loud tone stays within the speaker's range."""
    mixer = Mixer(RATE_HZ)
    mixer.put(np.full(1_000, 0.9, np.float32), tone=False)
    mixer.take(200)
    mixer.put(np.full(100, 0.9, np.float32), tone=True)
    assert mixer.take(100).max() == 1.0


def test_tones_that_come_too_late_give_way() -> None:
    """A hundred lines pasted at once: the first tone is whole, the newest comes within seconds."""
    mixer = Mixer(RATE_HZ)
    for number in range(100):
        ahead = mixer.put(np.full(RATE_HZ // 2, number / 100, np.float32), tone=True)
        assert ahead <= BEHIND_S * RATE_HZ + RATE_HZ // 2
    out = _all(mixer, 1_000)
    assert not out[: RATE_HZ // 2].any()
    assert out[-1] == pytest.approx(0.99)
    assert (np.diff(out) >= 0).all()


def test_a_tone_that_is_to_be_kept_outlives_a_burst() -> None:
    """An unsafe one among many acknowledgements is heard; those before and after it give way."""
    mixer = Mixer(RATE_HZ)
    for number in range(50):
        loud = number == 1
        mixer.put(np.full(RATE_HZ // 2, 0.9 if loud else 0.1, np.float32), tone=True, keep=loud)
    out = _all(mixer, 1_000)
    assert np.count_nonzero(out > 0.5) == RATE_HZ // 2
    assert len(out) <= (BEHIND_S + 1.0) * RATE_HZ
