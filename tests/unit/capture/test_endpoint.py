"""Cutting recorded speech and shop noise into utterances, with the real detector."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest

from voicelog.capture.endpoint import Endpointer
from voicelog.domain.sound import SAMPLE_RATE, Clip

Cut = Callable[..., list[Clip]]


def _second(seconds: float) -> int:
    """Byte offset of a moment."""
    return round(seconds * SAMPLE_RATE) * 2


def test_recorded_speech_is_cut_at_its_pauses(cut: Cut, speech: bytes) -> None:
    """The reader of beckett.wav pauses clearly three times; the speech fills most of the time."""
    clips = cut([speech])
    assert 2 <= len(clips) <= 5
    spoken = sum(clip.speech_end_s - clip.start_s for clip in clips)
    assert 7.0 < spoken < len(speech) / 2 / SAMPLE_RATE
    assert not any(clip.cut for clip in clips)


def test_size_of_fed_blocks_does_not_matter(cut: Cut, speech: bytes) -> None:
    """One sample, odd sizes or everything at once: the same clips."""
    whole = cut([speech])
    for size in (2, 1_022, 30_002):
        assert cut(speech[at : at + size] for at in range(0, len(speech), size)) == whole


def test_clips_hold_the_source_where_they_say(cut: Cut, speech: bytes) -> None:
    """start_s and end_s point at the very samples of the source."""
    for clip in cut([speech]):
        assert clip.pcm == speech[_second(clip.start_s) : _second(clip.end_s)]
        assert clip.start_s < clip.speech_end_s <= clip.end_s


def test_pre_roll_reaches_back_and_never_into_the_last_clip(cut: Cut, speech: bytes) -> None:
    """A word after silence gets its 0.3 s; clips that follow each other do not overlap."""
    silence = bytes(_second(2.0))
    clips = cut([silence, speech, silence])
    bare = cut([silence, speech, silence], preroll_s=0.0)
    assert bare[0].start_s - clips[0].start_s == pytest.approx(0.32, abs=1e-6)
    assert all(other.start_s > one.end_s - 1e-9 for one, other in pairwise(clips))


def test_closing_silence_decides_how_finely_speech_is_cut(cut: Cut, speech: bytes) -> None:
    """A longer silence joins what a shorter one cuts."""
    assert len(cut([speech], silence_s=2.0)) < len(cut([speech], silence_s=0.3))


def test_shop_noise_makes_no_clip(cut: Cut, shop_noise: dict[str, bytes]) -> None:
    """Taps, ringing blows, tool bursts, pink noise, hum, all at once, and silence."""
    assert {name: len(cut([sound])) for name, sound in shop_noise.items()} == dict.fromkeys(
        shop_noise, 0
    )


def test_speech_is_found_among_shop_noise(
    cut: Cut, speech: bytes, shop_noise: dict[str, bytes]
) -> None:
    """Speech mixed with everything at once: as much of it is found as in quiet, within a fifth."""
    voice = np.frombuffer(speech, "<i2").astype(float)
    noise = np.frombuffer(shop_noise["all"], "<i2").astype(float)[: len(voice)]
    louder = 3 * voice / voice.std() * noise.std()
    mixed = np.clip(louder + noise, -32768, 32767).astype("<i2").tobytes()
    found = sum(c.speech_end_s - c.start_s for c in cut([mixed]))
    quiet = sum(c.speech_end_s - c.start_s for c in cut([speech]))
    assert found == pytest.approx(quiet, rel=0.2)


def test_long_monologue_keeps_every_sample_once(cut: Cut, monologue: bytes) -> None:
    """65 s without a pause: the clips put together are the source, none is over the limit."""
    clips = cut([monologue], preroll_s=20.0)
    first, last = clips[0], clips[-1]
    assert len(clips) == 4
    assert [clip.cut for clip in clips] == [True, True, True, False]
    assert all(clip.duration_s <= 20.0 for clip in clips)
    together = b"".join(clip.pcm for clip in clips)
    assert together == monologue[_second(first.start_s) : _second(last.end_s)]
    assert first.start_s == 0.0
    assert last.end_s == pytest.approx(65.0, abs=0.3)


def test_cut_falls_into_a_quiet_moment(cut: Cut, monologue: bytes) -> None:
    """The tenth of a second around each cut is well below the level of the clip."""
    for clip in cut([monologue])[:-1]:
        end = _second(clip.end_s)
        around = np.frombuffer(monologue[end - 1600 : end + 1600], "<i2").astype(float)
        level = 10 * np.log10((around**2).mean() / 32768**2 + 1e-12)
        assert level < clip.level_dbfs - 6


def test_speaking_is_true_during_speech_only(speech: bytes) -> None:
    """It turns true within a second of speech and false after the silence that follows."""
    endpointer = Endpointer()
    assert not endpointer.speaking
    endpointer.feed(speech[: _second(1.5)])
    assert endpointer.speaking
    endpointer.feed(bytes(_second(2.0)))
    assert not endpointer.speaking


def test_noise_floor_follows_the_room(shop_noise: dict[str, bytes]) -> None:
    """Pink noise at -20 dB below full scale is found to be that; so is silence."""
    endpointer = Endpointer()
    endpointer.feed(shop_noise["pink"])
    assert endpointer.noise_dbfs == pytest.approx(-20.0, abs=3.0)
    endpointer.feed(shop_noise["silence"])
    assert endpointer.noise_dbfs == pytest.approx(-96.0, abs=1.0)


def test_speech_to_the_very_end_is_kept(cut: Cut, speech: bytes) -> None:
    """Sound that stops in the middle of a word gives its last sample too."""
    stopped = speech[: _second(1.5) + 2]
    assert cut([stopped])[-1].end_s == pytest.approx(1.5 + 1 / SAMPLE_RATE)


def test_nothing_in_nothing_out() -> None:
    """No sound at all makes no clip."""
    endpointer = Endpointer()
    assert endpointer.feed(b"") == []
    assert endpointer.finish() == []
