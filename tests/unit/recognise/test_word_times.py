"""When words were said, told from sound whose times are known."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray

from voicelog.capture.voice import BLOCK as CAPTURE_BLOCK
from voicelog.capture.voice import SileroDetector
from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.recognise.word_times import BLOCK, FRAME_S, loudness, with_times

SAMPLES = Path(__file__).parents[3] / "audio_samples"
SPOKEN = json.loads((Path(__file__).parent / "word_starts.json").read_text(encoding="utf-8"))
"""Clips of ``audio_samples`` spoken by flite 2.2, with its own times (``-psdur``) of their words."""


def _sound(*parts: tuple[float, float], noise: float = 1e-3) -> Clip:
    """Stretches of a hum like a voice's: seconds and loudness; over steady noise."""
    rng = np.random.default_rng(5)
    levels = np.concatenate([np.full(round(s * SAMPLE_RATE), level) for s, level in parts])
    phase = 2.0 * np.pi * 140.0 * np.arange(len(levels)) / SAMPLE_RATE
    voice = sum(np.sin(n * phase) / n for n in range(1, 25))
    return _clip(levels * voice * 0.3 + noise * rng.standard_normal(len(levels)))


def _clip(samples: NDArray[np.float64]) -> Clip:
    pcm = np.round(samples.clip(-1, 1) * 32_767).astype("<i2").tobytes()
    return Clip(pcm, 0.0, len(samples) / SAMPLE_RATE)


def _heard(*words: Word | str) -> Heard:
    as_words = tuple(word if isinstance(word, Word) else Word(word, 0.9) for word in words)
    text = " ".join(word.text for word in as_words)
    return Heard((Hypothesis(text, -1.0, as_words), Hypothesis("other", -2.0)), "built-in", "m")


def _words(heard: Heard) -> tuple[Word, ...]:
    return heard.hypotheses[0].words


def _starts(heard: Heard) -> list[float]:
    return [word.start_s for word in _words(heard) if word.start_s is not None]


def test_words_lie_on_the_sound_with_pauses_where_it_is_silent() -> None:
    """Each within 60 ms of its hum, silence before and after left out."""
    clip = _sound((0.6, 0), (0.4, 1), (0.3, 0), (0.5, 1), (0.2, 0), (0.3, 1), (1.0, 0))
    timed = _words(with_times(_heard("frame,", "hanger", "left"), clip))
    spans = [(word.start_s, word.end_s) for word in timed]
    assert np.array(spans) == pytest.approx(
        np.array([(0.6, 1.0), (1.3, 1.8), (2.0, 2.3)]), abs=0.06
    )


def test_without_pauses_words_share_the_time_by_their_letters() -> None:
    """Long words take longer, in steady sound."""
    clip = _sound((0.5, 0), (1.5, 1), (0.5, 0))
    one, other = _words(with_times(_heard("a", "cross-member"), clip))
    assert one.end_s == other.start_s
    assert other.end_s - other.start_s > 2.5 * (one.end_s - one.start_s)


def test_words_meet_in_a_dip() -> None:
    """Two words of equal length, and a dip that is not in the middle."""
    clip = _sound((0.3, 0), (0.46, 1), (0.08, 0.01), (0.6, 1), (0.3, 0))
    first, second = _words(with_times(_heard("kick", "plum"), clip))
    assert second.start_s == pytest.approx(0.8, abs=0.06)
    assert first.end_s == pytest.approx(second.start_s, abs=0.1)


def test_steady_noise_is_not_speech() -> None:
    """A hall's noise 14 dB under the voice moves nothing far."""
    parts = ((0.6, 0.0), (0.4, 1.0), (0.3, 0.0), (0.5, 1.0), (1.0, 0.0))
    heard = _heard("frame,", "hanger")
    quiet = _starts(with_times(heard, _sound(*parts)))
    assert _starts(with_times(heard, _sound(*parts, noise=0.05))) == pytest.approx(quiet, abs=0.1)


def test_times_that_are_there_stay_and_bound_the_others() -> None:
    """An ear may have told some of them."""
    clip = _sound((0.5, 0), (3.0, 1), (0.5, 0))
    told = Word("hole", 0.5, 2.0, 2.2)
    first, kept, last = _words(with_times(_heard("left", told, "rail"), clip))
    assert kept is told
    assert first.start_s < first.end_s <= 2.0
    assert 2.2 <= last.start_s < last.end_s
    assert (first.confidence, first.text) == (0.9, "left")


def test_an_ear_that_told_all_times_is_left_alone() -> None:
    """Nothing is looked at, nothing is changed; nor is what heard nothing."""
    heard = _heard(Word("hole", 0.5, 0.1, 0.2))
    clip = _sound((0.5, 1))
    assert with_times(heard, clip) is heard
    nothing = Heard((), "built-in")
    assert with_times(nothing, clip) is nothing


def test_only_the_best_hypothesis_is_timed_and_gets_words_if_it_has_none() -> None:
    """Typed words have no clip; what an ear gives as text only has words all the same."""
    heard = Heard((Hypothesis("left rail"), Hypothesis("right rail")), "x", "m")
    timed = with_times(heard, _sound((0.2, 0), (0.8, 1), (0.2, 0)))
    assert [word.text for word in _words(timed)] == ["left", "rail"]
    assert len(_starts(timed)) == 2
    assert (timed.hypotheses[1], timed.engine, timed.model) == (heard.hypotheses[1], "x", "m")


@pytest.mark.parametrize("pcm", [b"", b"\x01", b"\0" * 200])
def test_a_clip_too_short_for_its_words_leaves_them_without_times(pcm: bytes) -> None:
    """Less than a frame a word: nothing is made up."""
    timed = with_times(_heard("left", "rail"), Clip(pcm, 0.0, 0.0))
    assert _starts(timed) == []
    assert len(_words(timed)) == 2


@pytest.mark.parametrize("level", [0.0, 1.0])
def test_a_clip_that_is_all_silence_or_all_sound_is_shared_out(level: float) -> None:
    """There is nothing to go by; words are in order and within the clip all the same."""
    clip = _sound((1.0, level), noise=0.0)
    timed = _words(with_times(_heard("left", "outrigger", "has", "a", "hole"), clip))
    edges = [edge for word in timed for edge in (word.start_s, word.end_s)]
    assert edges == sorted(edges)
    assert 0.0 <= edges[0] < edges[-1] <= 1.0


def test_more_words_than_anybody_says_still_fit() -> None:
    """As many as there are frames: each gets one."""
    timed = _words(with_times(_heard(*["hole"] * 50), _sound((1.0, 1))))
    assert [word.start_s for word in timed] == pytest.approx(np.arange(50) * FRAME_S)


def test_loudness_is_over_the_noise() -> None:
    """About nothing in noise alone, much in a voice; a number for each frame."""
    loud = loudness(_sound((1.0, 0), (1.0, 1)).pcm)
    assert loud.shape == (100,)
    assert loud[:45].mean() < 5.0 < 20.0 < loud[55:].mean()


def test_the_packaged_detector_fits() -> None:
    """It takes the very blocks that it is given here."""
    assert BLOCK == CAPTURE_BLOCK
    with_times(_heard("left"), _sound((0.5, 1)), SileroDetector())


@pytest.mark.parametrize("detected", [False, True])
def test_words_of_the_demo_are_found_near_their_true_times(detected: bool) -> None:
    """Thirteen recordings, some of them noisy, against the times of the voice that spoke them: the
    figures of the module's docstring, with a little room for other machines.
    """
    detector = SileroDetector() if detected else None
    off = np.concatenate([_off(name, words, detector) for name, words in SPOKEN.items()])
    assert len(off) == 124
    half, most = np.percentile(off, [50, 90])
    assert half <= 0.08
    assert most <= (0.22 if detected else 0.36)


def _off(
    name: str, words: list[tuple[str, float]], detector: SileroDetector | None
) -> NDArray[np.float64]:
    """How far each start is off, in seconds."""
    samples, _ = soundfile.read(SAMPLES / f"{name}.flac", dtype="int16")
    clip = Clip(samples.astype("<i2").tobytes(), 0.0, 0.0)
    timed = with_times(_heard(*(text for text, _ in words)), clip, detector)
    return np.abs(np.subtract(_starts(timed), [start_s for _, start_s in words]))
