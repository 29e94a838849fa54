"""The sound of a long day: recordings and a quiet room, and the ear that is told what was said."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import long_log

from voicelog.capture.rehearse import ROOM_DBFS
from voicelog.capture.source import read_audio
from voicelog.domain.heard import Heard
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.recognise.port import Ear, Expected
from voicelog.runtime.launching import bundled

if TYPE_CHECKING:
    from numpy import float32, int16
    from numpy.typing import NDArray

BITS = 16
"""Of a number; every so many samples it begins anew."""

QUIET_S, ROOM_S = 1.2, 5.0
"""Quiet before an utterance; blocks of a quiet room."""


class Script:
    """The sound of the day, and what was said when.

    Args:
        said: the sentences.
        whole_s: length of the day.
        one_in: every so many-th utterance carries no number: the ear has to hear it.
        seed: of the quiet room's noise.
    """

    def __init__(self, said: Sequence[str], whole_s: float, one_in: int, seed: int) -> None:
        import numpy as np

        self.said, self._apart_s, self._one_in = said, whole_s / len(said), one_in
        self.by_ear = len(range(0, len(said), one_in))
        self._chance = np.random.default_rng(seed)
        self._recordings = [_samples(path) for path in bundled()]
        self._room = self._noise(ROOM_S)

    def sound(self) -> Iterator[NDArray[float32]]:
        """All of it, in blocks of some seconds."""
        for number in range(len(self.said)):
            recording = self._recordings[number % len(self._recordings)]
            yield self._noise(QUIET_S)
            yield _floats(recording if number % self._one_in == 0 else marked(recording, number))
            left_s = self._apart_s - QUIET_S - len(recording) / SAMPLE_RATE
            for _ in range(math.ceil(left_s / ROOM_S)):
                yield self._room[: round(min(left_s, ROOM_S) * SAMPLE_RATE)]
                left_s -= ROOM_S

    def heard(self, pcm: bytes) -> Heard | None:
        """What the ear is told of a clip; None where it has to hear it itself."""
        number = mark_of(pcm)
        if number is None or number >= len(self.said):
            return None
        return long_log.heard_as(self.said[number], number)

    def _noise(self, seconds: float) -> NDArray[float32]:
        import numpy as np

        noise = self._chance.standard_normal(round(seconds * SAMPLE_RATE)) * 10 ** (ROOM_DBFS / 20)
        room: NDArray[float32] = noise.astype(np.float32)[:, None]
        return room


def marked(samples: NDArray[int16], number: int) -> NDArray[int16]:
    """The samples with a number in their two lowest bits: where it begins, and its own bits."""
    import numpy as np

    bits = [number >> bit & 1 for bit in range(BITS)]
    low = np.array([bit | 2 * (place == 0) for place, bit in enumerate(bits)], np.int16)
    return (samples & ~np.int16(3)) | np.resize(low, len(samples))


def mark_of(pcm: bytes) -> int | None:
    """The number in the lowest bits of a clip; None where there is none."""
    import numpy as np

    samples = np.frombuffer(pcm, "<i2")
    rows = samples[: len(samples) // BITS * BITS].reshape(-1, BITS)
    begins, ones = (rows >> 1 & 1).mean(0), (rows & 1).mean(0)
    first = int(begins.argmax())
    others = np.delete(begins, first)
    if begins[first] < 0.6 or others.max(initial=0.0) > 0.4:
        return None
    return int(sum(int(ones[(first + bit) % BITS] > 0.5) << bit for bit in range(BITS)))


class ToldEar:
    """The built-in ear, but of what carries a number it is told what was said."""

    def __init__(self, ear: Ear, script: Script) -> None:
        self._ear, self._script, self._pcm = ear, script, b""

    @property
    def engine(self) -> str:
        """The real one's."""
        return self._ear.engine

    @property
    def model(self) -> str:
        """The real one's."""
        return self._ear.model

    def expect(self, expected: Expected) -> None:
        """The real ear leans; the other words are what they are."""
        self._ear.expect(expected)

    def feed(self, pcm: bytes) -> None:
        """Kept until it is known whether it carries a number."""
        self._pcm += pcm

    def partial(self) -> str:
        """Nobody looks."""
        return ""

    def finish(self) -> Heard:
        """What the script says, or what the ear hears."""
        pcm, self._pcm = self._pcm, b""
        told = self._script.heard(pcm)
        if told is not None:
            return told
        self._ear.feed(pcm)
        return self._ear.finish()

    def forget(self) -> None:
        """The open utterance is dropped."""
        self._pcm = b""

    def close(self) -> None:
        """Let the real one go."""
        self._ear.close()


def _samples(path: Path) -> NDArray[int16]:
    import numpy as np

    return np.concatenate([np.frombuffer(pcm, "<i2") for pcm in read_audio(path)]).astype(np.int16)


def _floats(samples: NDArray[int16]) -> NDArray[float32]:
    import numpy as np

    floats: NDArray[float32] = (samples.astype(np.float32) / np.float32(32768))[:, None]
    return floats
