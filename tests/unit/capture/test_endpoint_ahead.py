"""What the endpointer knows before an utterance is closed, and what it does at a gap."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.voice import BLOCK
from voicelog.domain.sound import SAMPLE_RATE, Clip

BLOCK_S = BLOCK / SAMPLE_RATE
CLOSING, POST = 22, 10
"""Blocks of the closing silence (0.7 s), and of the silence that stays in the clip (0.3 s)."""


class Scripted:
    """Judges the blocks as a list says, silence after its end; counts how often it forgot."""

    def __init__(self, judgements: list[float]) -> None:
        self._left = iter(judgements)
        self.resets = 0

    def speech(self, pcm: bytes) -> float:
        """The next judgement."""
        return next(self._left, 0.0)

    def reset(self) -> None:
        """Forget."""
        self.resets += 1


def _blocks(count: int, start: int = 0) -> list[bytes]:
    """Numbered samples, so that a lost or repeated one shows."""
    samples = (np.arange(start, start + count * BLOCK) % 65_536).astype("<u2").tobytes()
    return [samples[at : at + 2 * BLOCK] for at in range(0, len(samples), 2 * BLOCK)]


def _fed(judgements: list[float], **more: float) -> tuple[Endpointer, list[Clip]]:
    endpointer = Endpointer(detector=Scripted(judgements), **more)
    return endpointer, [c for pcm in _blocks(len(judgements)) for c in endpointer.feed(pcm)]


runs = st.lists(
    st.tuples(st.sampled_from([0.0, 0.4, 0.9]), st.integers(1, 40)), min_size=1, max_size=12
)


@settings(max_examples=200, deadline=None)
@given(
    runs=runs,
    silence_s=st.sampled_from([0.2, 0.7, 1.5]),
    longest_s=st.sampled_from([2.0, 5.0, 20.0]),
)
def test_likely_clip_is_the_one_that_silence_closes(
    runs: list[tuple[float, int]], silence_s: float, longest_s: float
) -> None:
    """At any moment of any sound: if there is a guess and nothing but silence follows, the next
    clip is that very one, bit for bit, whatever the length limit.
    """
    judgements = [value for value, count in runs for _ in range(count)]
    endpointer, _ = _fed(judgements, silence_s=silence_s, longest_s=longest_s)
    guess = endpointer.likely()
    later = [clip for pcm in _blocks(60, len(judgements) * BLOCK) for clip in endpointer.feed(pcm)]
    if guess is not None:
        assert later[0] == guess


def test_guess_is_there_from_the_post_roll_to_the_end() -> None:
    """After speech: ten blocks of silence and not before, twelve blocks ahead of the clip."""
    endpointer, clips = _fed([0.9] * 20)
    known = []
    for pcm in _blocks(CLOSING, 20 * BLOCK):
        clips += endpointer.feed(pcm)
        known.append(endpointer.likely() is not None)
    assert known == [False] * (POST - 1) + [True] * (CLOSING - POST) + [False]
    assert len(clips) == 1


def test_guess_is_the_same_object_as_long_as_it_stands() -> None:
    """Whoever decodes it ahead can tell by identity that nothing has changed."""
    endpointer, _ = _fed([0.9] * 20 + [0.0] * 12)
    first = endpointer.likely()
    endpointer.feed(_blocks(1)[0])
    assert endpointer.likely() is first


def test_more_speech_withdraws_the_guess() -> None:
    """A pause in a sentence: the guess was wrong, and a later one holds both halves."""
    endpointer, _ = _fed([0.9] * 20 + [0.0] * 12 + [0.9] * 5)
    assert endpointer.likely() is None
    endpointer.feed(b"".join(_blocks(12)))
    later = endpointer.likely()
    assert later is not None
    assert later.samples == (20 + 12 + 5 + POST) * BLOCK


def test_nothing_is_guessed_of_a_tap() -> None:
    """Too little speech to be kept gives no guess."""
    endpointer, _ = _fed([0.9] * 4 + [0.0] * 15)
    assert endpointer.likely() is None


def test_open_sound_grows_from_the_pre_roll_on() -> None:
    """Empty in quiet, then everything from the pre-roll to now, then empty again."""
    endpointer, _ = _fed([0.0] * 30)
    assert endpointer.open_pcm() == b""
    endpointer, _ = _fed([0.0] * 30 + [0.9] * 10)
    assert endpointer.open_pcm() == b"".join(_blocks(40)[20:])
    endpointer, _ = _fed([0.0] * 30 + [0.9] * 10 + [0.0] * 30)
    assert endpointer.open_pcm() == b""


def test_gap_closes_and_joins_nothing() -> None:
    """The open utterance comes out; what follows has no pre-roll from before, and lies later."""
    detector = Scripted([0.0] * 20 + [0.9] * 40)
    endpointer = Endpointer(detector=detector)
    for pcm in _blocks(40):
        assert endpointer.feed(pcm) == []
    before = endpointer.gap(2.0)
    assert [clip.samples for clip in before] == [30 * BLOCK]
    assert detector.resets == 1
    after = [clip for pcm in _blocks(60) for clip in endpointer.feed(pcm)]
    assert [clip.start_s for clip in after] == [pytest.approx(40 * BLOCK_S + 2.0)]


def test_gap_in_quiet_gives_nothing() -> None:
    """No clip, twice too; half a block that waited counts as heard."""
    endpointer = Endpointer(detector=Scripted([]))
    endpointer.feed(bytes(1000))
    assert endpointer.gap() == []
    assert endpointer.gap(1.0) == []


def test_in_quiet_speech_must_be_sure_and_in_noise_it_need_not() -> None:
    """A blow whose ring sounds like a voice (0.7) is let go in a quiet room; in noise as loud as
    itself the same judgement makes a clip.
    """
    rng = np.random.default_rng(1)
    noise = (rng.standard_normal(140 * BLOCK) * 1000).astype("<i2").tobytes()
    unsure = [0.0] * 60 + [0.7] * 12 + [0.0] * 40
    for quiet, clips in ((True, 0), (False, 1)):
        endpointer = Endpointer(detector=Scripted(unsure))
        before = bytes(60 * BLOCK * 2) if quiet else noise[: 60 * BLOCK * 2]
        assert len(endpointer.feed(before + noise[60 * BLOCK * 2 :])) == clips
