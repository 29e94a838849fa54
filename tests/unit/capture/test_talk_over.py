"""A person who talks over the tool is noticed; the tool's own echo is not."""

from __future__ import annotations

import numpy as np
import pytest

from voicelog.capture.talk_over import BLOCKS, LEARNED_BLOCKS, TalkOver
from voicelog.capture.voice import BLOCK


class AllSpeech:
    """A detector that takes everything for speech: the tool's voice is speech, after all."""

    def speech(self, pcm: bytes) -> float:
        """Certain."""
        return 1.0

    def reset(self) -> None:
        """Nothing to forget."""


class NoSpeech(AllSpeech):
    """A detector that finds none."""

    def speech(self, pcm: bytes) -> float:
        """Impossible."""
        return 0.0


def noise(level_dbfs: float, blocks: int = 1, seed: int = 3) -> bytes:
    """So many blocks of noise at a level."""
    samples = np.random.default_rng(seed).standard_normal(blocks * BLOCK) * 10 ** (level_dbfs / 20)
    return bytes((samples * 32768).clip(-32768, 32767).astype("<i2").tobytes())


@pytest.fixture
def learned() -> TalkOver:
    """It knows its own echo, at -40 dB."""
    over = TalkOver(detector=AllSpeech())
    assert over.feed(noise(-40, LEARNED_BLOCKS + 5)) == b""
    return over


def test_its_own_echo_is_no_person(learned: TalkOver) -> None:
    """However long it talks."""
    assert learned.feed(noise(-38, 300, seed=4)) == b""


def test_louder_speech_is_a_person(learned: TalkOver) -> None:
    """Within a third of a second, and what was said in it is given back."""
    begun = noise(-20, BLOCKS, seed=5)
    found = learned.feed(begun)
    assert found.endswith(begun[-4 * BLOCK :])


def test_a_blow_is_no_person(learned: TalkOver) -> None:
    """Loud, but over in a tenth of a second; or long, but no speech."""
    assert learned.feed(noise(-15, 3) + noise(-40, 20)) == b""
    deaf = TalkOver(detector=NoSpeech())
    deaf.feed(noise(-40, LEARNED_BLOCKS))
    assert deaf.feed(noise(-15, 100)) == b""


def test_before_the_echo_is_known_nobody_is_taken_for_a_person() -> None:
    """The first loud word of the tool must not make it fall silent."""
    assert TalkOver(detector=AllSpeech()).feed(noise(-10, LEARNED_BLOCKS)) == b""


def test_the_size_of_the_pieces_does_not_matter(learned: TalkOver) -> None:
    """Sound comes as the device pleases."""
    sound = noise(-20, BLOCKS + 1, seed=6)
    assert any(learned.feed(sound[at : at + 333]) for at in range(0, len(sound), 333))


def test_the_detector_hears_every_block_and_forgets_between_sayings() -> None:
    """It remembers what came before: a gap that it is not told of would spoil its judgement."""
    calls: list[str] = []

    class Noting(AllSpeech):
        """Notes what it is asked."""

        def speech(self, pcm: bytes) -> float:
            calls.append("speech")
            return 0.0

        def reset(self) -> None:
            calls.append("reset")

    over = TalkOver(detector=Noting())
    over.feed(noise(-40, 7))
    over.reset()
    assert calls == ["speech"] * 7 + ["reset"]
