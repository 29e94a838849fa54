"""The built-in ear on real sound: what bias changes, what noise must not bring out, and pacing."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

import jiwer
import numpy as np
import pytest

from voicelog.domain.heard import Heard
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.recognise.moonshine_engine import MoonshineEar
from voicelog.recognise.moonshine_model import MODEL, MoonshineModel

Read = Callable[[str], bytes]

BECKETT = "ever tried ever failed no matter try again fail again fail better"
"""What beckett.wav of the wheel says, as the ear wrote it and a reader found it to make sense; the
package carries no text of it."""


def _hear(ear: MoonshineEar, pcm: bytes) -> Heard:
    ear.feed(pcm)
    return ear.finish()


def _plain(text: str) -> str:
    return " ".join(re.findall(r"[a-z']+", text.lower()))


def _noise(kind: str) -> bytes:
    """Two seconds of seeded noise or of silence."""
    rng, count = np.random.default_rng(7), 2 * SAMPLE_RATE
    white = rng.standard_normal(count)
    spectrum = np.fft.rfft(rng.standard_normal(count))
    pink = np.fft.irfft(spectrum / np.sqrt(np.maximum(1, np.arange(len(spectrum)))))
    sound = {
        "silence": np.zeros(count),
        "faint": 0.001 * white,
        "white": 0.1 * white,
        "pink": 0.1 * pink / pink.std(),
        "hum": 0.2 * np.sin(2 * np.pi * 100 * np.arange(count) / SAMPLE_RATE),
    }[kind]
    return (sound.clip(-1, 1) * 32767).astype("<i2").tobytes()


@pytest.mark.parametrize(
    ("name", "phrase"),
    [
        ("brake_line", "brake line"),
        ("brake_line", "surface rust"),
        ("bulkhead", "bulkhead hole"),
        ("sill", "passenger side sill"),
    ],
)
def test_bias_brings_out_the_words_of_the_trade(
    biased: MoonshineEar, plain: MoonshineEar, clip: Read, name: str, phrase: str
) -> None:
    """The same clip: "break", "rest", "hold", "seal" without bias, the trade's words with it."""
    assert phrase not in _plain(_hear(plain, clip(name)).text)
    assert phrase in _plain(_hear(biased, clip(name)).text)


def test_recorded_speech_is_written_down(plain: MoonshineEar, beckett: bytes) -> None:
    """A person reading: few errors, and case and punctuation as the model writes them."""
    text = _hear(plain, beckett).text
    assert jiwer.wer(BECKETT, _plain(text)) < 0.1
    assert text[0].isupper()
    assert "," in text


def test_bias_leaves_other_speech_alone(biased: MoonshineEar, beckett: bytes) -> None:
    """None of the vocabulary turns up in a text that has nothing to do with it."""
    assert jiwer.wer(BECKETT, _plain(_hear(biased, beckett).text)) < 0.1


@pytest.mark.parametrize("kind", ["silence", "faint", "white", "pink", "hum"])
def test_noise_brings_out_no_vocabulary(biased: MoonshineEar, kind: str) -> None:
    """Two seconds without speech: nothing is heard, whatever the bias would like."""
    assert _hear(biased, _noise(kind)).hypotheses == ()


@pytest.mark.parametrize("count", [0, 1, 100, 1000])
def test_very_short_sound_is_no_trouble(biased: MoonshineEar, count: int) -> None:
    """A few loud samples: nothing is heard and nothing breaks."""
    assert _hear(biased, b"\x00\x40" * count + b"\x01").hypotheses == ()


def test_heard_holds_words_runners_up_and_confidences(biased: MoonshineEar, clip: Read) -> None:
    """Best first, every text once, words that make up the text, confidences that are chances."""
    heard = _hear(biased, clip("brake_line"))
    assert (heard.engine, heard.model) == ("built-in", MODEL)
    assert 2 <= len(heard.hypotheses) <= 4
    scores = [hypothesis.score for hypothesis in heard.hypotheses]
    assert scores == sorted(scores, reverse=True)
    assert len({_plain(h.text) for h in heard.hypotheses}) == len(heard.hypotheses)
    for hypothesis in heard.hypotheses:
        assert " ".join(word.text for word in hypothesis.words) == hypothesis.text
        chances = [word.confidence for word in hypothesis.words]
        assert all(chance is not None and 0.0 <= chance <= 1.0 for chance in chances)


def test_utterances_do_not_leak_into_each_other(biased: MoonshineEar, clip: Read) -> None:
    """What was heard before changes nothing; feeding in parts neither."""
    alone = _hear(biased, clip("sill"))
    _hear(biased, clip("bulkhead"))
    pcm = clip("sill")
    for at in range(0, len(pcm), 3_002):
        biased.feed(pcm[at : at + 3_002])
    assert biased.finish() == alone


def test_long_sound_is_heard_in_pieces(plain: MoonshineEar, beckett: bytes) -> None:
    """Twenty seconds are longer than one piece; both readings of the sentence are there."""
    text = _plain(_hear(plain, beckett * 2).text)
    assert jiwer.wer(f"{BECKETT} {BECKETT}", text) < 0.15


def test_partials_come_about_twice_a_second(model: MoonshineModel, clip: Read) -> None:
    """Nothing for 0.3 s, then a text that stays for 0.4 s: twice a second, asking included."""
    now = [100.0]
    ear = MoonshineEar(model=model, clock=lambda: now[0])
    pcm = clip("brake_line")
    ear.feed(pcm[:6_000])
    assert ear.partial() == ""
    ear.feed(pcm[6_000:40_000])
    first = ear.partial()
    assert first != ""
    ear.feed(pcm[40_000:])
    now[0] += 0.3
    assert ear.partial() == first
    now[0] += 0.2
    assert len(ear.partial()) > len(first)


def test_slow_partials_come_less_often(model: MoonshineModel, clip: Read) -> None:
    """When decoding takes a second, at least another passes before the next."""
    ticks = iter([0.0, 1.0, 1.5, 2.5, 3.5])
    ear = MoonshineEar(model=model, clock=lambda: next(ticks))
    pcm = clip("brake_line")
    ear.feed(pcm[:40_000])
    first = ear.partial()
    ear.feed(pcm[40_000:])
    assert ear.partial() == first
    assert ear.partial() != first


def test_partials_begin_anew_with_each_utterance(model: MoonshineModel, clip: Read) -> None:
    """After finish nothing of the old utterance is shown."""
    ear = MoonshineEar(model=model)
    ear.feed(clip("brake_line"))
    assert ear.partial() != ""
    ear.finish()
    assert ear.partial() == ""


def test_confidence_tells_what_was_sure(plain: MoonshineEar, beckett: bytes, clip: Read) -> None:
    """A clear reader is heard more surely than a word mistaken for another."""
    sure = _hear(plain, beckett).hypotheses[0].words
    mistaken = _hear(plain, clip("sill")).hypotheses[0].words
    unsure = next(word for word in mistaken if word.text.startswith("seal"))
    mean = math.fsum(word.confidence or 0.0 for word in sure) / len(sure)
    assert mean > max(0.8, (unsure.confidence or 0.0))
