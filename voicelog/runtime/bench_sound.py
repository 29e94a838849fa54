"""The sound of an entry made ready for the bench: its samples, and when each of its words was said."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.domain.utterance import Utterance
from voicelog.errors import EarFault, InputFault
from voicelog.journal.clips import read_clip
from voicelog.recognise.word_times import Detector, with_times
from voicelog.tongue import Worded, worded

if TYPE_CHECKING:
    from numpy import int16
    from numpy.typing import NDArray

KEPT = 16
"""Clips that stay in memory; one of 20 s has 640 kB."""


@dataclass(frozen=True, slots=True)
class Sounded:
    """The sound of an utterance.

    Args:
        utterance: its id.
        clip: as it was kept.
        heard: the words that were read first, with their times, estimated where the ear gave none.
    """

    utterance: str
    clip: Clip
    heard: Heard

    def samples(self) -> NDArray[int16]:
        """Mono, 16 bit, shape (samples,)."""
        import numpy as np

        return np.frombuffer(self.clip.pcm, "<i2").astype(np.int16)


def _voice() -> Detector | None:
    """What tells speech from other sound; without it the times are less exact."""
    from voicelog.capture.voice import SileroDetector

    try:
        return SileroDetector()
    except EarFault:
        return None


class BenchSound:
    """Reads clips and remembers the last ones; may be asked from any thread.

    Args:
        folder: the log's.
        detector: makes what tells speech from other sound, for the times of words.
    """

    def __init__(self, folder: Path, detector: Callable[[], Detector | None] = _voice) -> None:
        self._folder, self._make = folder, detector
        self._detector: Detector | None = None
        self._made = False
        self._lock = Lock()
        self._kept: OrderedDict[str, Sounded] = OrderedDict()

    def known(self, utterance: str) -> Sounded | None:
        """The sound, where it is in memory already."""
        return self._kept.get(utterance)

    def of(self, utterance: Utterance) -> Sounded:
        """The sound of an utterance; takes some 30 ms for each of its seconds the first time.

        Raises:
            InputFault: there is none, or it is damaged.
        """
        if utterance.clip is None:
            raise InputFault(_missing(utterance), worded("Its words are in the log"))
        with self._lock:
            if utterance.id not in self._kept:
                clip = read_clip(self._folder, utterance.clip)
                heard = with_times(_as_read(utterance), clip, self._voice_detector())
                self._kept[utterance.id] = Sounded(utterance.id, clip, heard)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
            return self._kept[utterance.id]

    def _voice_detector(self) -> Detector | None:
        if not self._made:
            self._detector, self._made = self._make(), True
        return self._detector


def _missing(utterance: Utterance) -> Worded:
    if utterance.lost:
        why = utterance.lost
        return worded("There is no sound of {utterance}: {why}", utterance=utterance.id, why=why)
    return worded("No sound of {utterance} was kept", utterance=utterance.id)


def _as_read(utterance: Utterance) -> Heard:
    """What was heard, the hypothesis that was read first: its words are shown, and need the times."""
    heard, read = utterance.heard, utterance.reading
    ranked = sorted(heard.hypotheses, key=lambda one: one.text != read)
    return replace(heard, hypotheses=tuple(ranked))
