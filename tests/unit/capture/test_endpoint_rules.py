"""The rules of cutting, over any sequence of judgements, with a detector made of a list."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.voice import BLOCK
from voicelog.domain.sound import SAMPLE_RATE, Clip

BLOCK_S = BLOCK / SAMPLE_RATE


class Scripted:
    """Judges the blocks as a list says."""

    def __init__(self, judgements: list[float]) -> None:
        self._left = iter(judgements)

    def speech(self, pcm: bytes) -> float:
        """The next judgement."""
        assert len(pcm) == 2 * BLOCK
        return next(self._left)


def _sound(blocks: int) -> bytes:
    """Numbered samples, so that a lost or repeated one shows."""
    return (np.arange(blocks * BLOCK) % 65_536).astype("<u2").tobytes()


def _cut(judgements: list[float], **settings: float) -> tuple[bytes, list[Clip]]:
    sound = _sound(len(judgements))
    endpointer = Endpointer(detector=Scripted(judgements), **settings)
    return sound, endpointer.feed(sound) + endpointer.finish()


runs = st.lists(
    st.tuples(st.sampled_from([0.0, 0.4, 0.9]), st.integers(1, 60)), min_size=1, max_size=25
)


@settings(max_examples=150, deadline=None)
@given(
    runs=runs,
    silence_s=st.sampled_from([0.2, 0.7, 3.0]),
    preroll_s=st.sampled_from([0.0, 0.3, 1.0]),
    longest_s=st.sampled_from([2.0, 5.0, 20.0]),
)
def test_no_sample_is_repeated_moved_or_lost_at_a_cut(
    runs: list[tuple[float, int]], silence_s: float, preroll_s: float, longest_s: float
) -> None:
    """Clips are stretches of the source, in order, apart, within the limit, joined where cut."""
    judgements = [value for value, count in runs for _ in range(count)]
    sound, clips = _cut(judgements, silence_s=silence_s, preroll_s=preroll_s, longest_s=longest_s)
    for clip in clips:
        start = round(clip.start_s * SAMPLE_RATE) * 2
        assert clip.pcm == sound[start : start + len(clip.pcm)]
        assert clip.duration_s <= longest_s
    for one, other in pairwise(clips):
        gap = round((other.start_s - one.end_s) * SAMPLE_RATE)
        assert gap == 0 if one.cut else gap >= 0
    assert not (clips and clips[-1].cut)


@settings(max_examples=100, deadline=None)
@given(runs=runs)
def test_every_clear_stretch_of_speech_is_in_a_clip(runs: list[tuple[float, int]]) -> None:
    """Speech of a quarter of a second or more is never dropped."""
    judgements = [value for value, count in runs for _ in range(count)]
    _, clips = _cut(judgements)
    at = 0
    for value, count in runs:
        if value == 0.9 and count >= 8:
            start, end = at * BLOCK_S, (at + count) * BLOCK_S
            inside = sum(max(0.0, min(end, c.end_s) - max(start, c.start_s)) for c in clips)
            assert abs(inside - (end - start)) < 1e-6
        at += count


def test_blip_of_speech_is_let_go() -> None:
    """0.19 s taken for speech is a tap; the same twice in a breath is a word."""
    blip, quiet = [0.9] * 6, [0.0] * 40
    assert _cut(quiet + blip + quiet)[1] == []
    assert len(_cut(quiet + blip + [0.0] * 5 + blip + quiet)[1]) == 1


def test_soft_end_of_a_word_stays_in() -> None:
    """What opens nothing by itself (0.4) holds an open utterance, but does not open one."""
    quiet = [0.0] * 40
    assert _cut(quiet + [0.4] * 40 + quiet)[1] == []
    clip = _cut(quiet + [0.9] * 10 + [0.4] * 40 + quiet)[1][0]
    assert clip.speech_end_s == 90 * BLOCK_S


def test_post_roll_is_short_and_the_rest_is_pre_roll_of_the_next() -> None:
    """After speech 0.32 s are kept; a word 0.75 s later takes up from there."""
    judgements = [0.9] * 20 + [0.0] * 22 + [0.9] * 20
    one, other = _cut(judgements)[1]
    assert one.end_s == 30 * BLOCK_S
    assert other.start_s == 32 * BLOCK_S


def test_short_rest_after_a_cut_is_kept() -> None:
    """One block of speech after the limit still makes a clip: it is the end of something."""
    judgements = [0.9] * 625 + [0.0] * 40
    clips = _cut(judgements, longest_s=20.0)[1]
    assert [clip.cut for clip in clips] == [True, False]
    assert sum(clip.samples for clip in clips) == (625 + 10) * BLOCK


def test_long_silence_closes_at_the_limit_instead_of_cutting() -> None:
    """With a closing silence beyond the limit, an utterance ends after its speech."""
    clips = _cut([0.9] * 20 + [0.0] * 200, silence_s=30.0, longest_s=6.0)[1]
    assert [clip.cut for clip in clips] == [False]
    assert clips[0].end_s == 30 * BLOCK_S
