"""What goes out next: tones at once, words when no tone sounds, silence otherwise.

A tone may come in the middle of a sentence. Then the words fade, stand still, and go on after the
tone: nothing of either is lost, and nothing has to wait for a long sentence to end.
"""

from __future__ import annotations

import math
from collections import deque
from threading import Lock
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

FADE_S = 0.008
"""How long sound takes to fall silent or to come back: short, yet without a click."""

BEHIND_S = 3.0
"""A tone that would come later than this answers nothing any more: of those that wait, the oldest
give way (many lines pasted at once), but for those that are to be kept."""


class Mixer:
    """Two lanes of sound in one stream; safe to use from several threads.

    Args:
        rate_hz: samples a second of all that is put in and taken out.
    """

    def __init__(self, rate_hz: int) -> None:
        self.rate_hz = rate_hz
        self._fade = max(1, round(FADE_S * rate_hz))
        self._tones, self._words = _Lane(), _Lane()
        self._open = 0.0  # how far the words are let through, 0 to 1
        self._tail: Floats | None = None  # the last of what was stopped
        self._lock = Lock()

    def put(self, samples: Floats, *, tone: bool, keep: bool = False) -> int:
        """Add sound to a lane.

        Args:
            samples: mono, shape (samples,).
            tone: no words.
            keep: never gives way to what comes after it.

        Returns:
            Samples that go out before its first one.
        """
        with self._lock:
            if tone:
                self._tones.shorten(round(BEHIND_S * self.rate_hz))
            ahead = self._tones.left + (0 if tone else self._words.left)
            (self._tones if tone else self._words).put(samples, keep=keep)
            return ahead

    def left(self, *, words_only: bool = False) -> int:
        """Samples still to be taken until all sound, or the last word, is out."""
        with self._lock:
            if words_only and not self._words.left:
                return 0
            tail = 0 if self._tail is None else len(self._tail)
            return max(tail, self._tones.left + self._words.left)

    def stop(self, *, words_only: bool = False) -> None:
        """Drop everything, or all words; the next samples fade out."""
        with self._lock:
            fading = self._fading_words() if words_only else self._fading_all()
            self._tail = fading if fading.any() else None
            self._words, self._open = _Lane(), 0.0
            if not words_only:
                self._tones = _Lane()

    def take(self, frames: int) -> Floats:
        """The next samples, as many as asked for."""
        with self._lock:
            return self._mixed(frames)

    def _fading_all(self) -> Floats:
        import numpy as np

        fading: Floats = self._mixed(self._fade) * np.linspace(1, 0, self._fade, dtype=np.float32)
        return fading

    def _fading_words(self) -> Floats:
        """The words' end, and the rest of an earlier one."""
        import numpy as np

        fading = np.zeros(self._fade, np.float32)
        if self._tail is not None:
            _add(fading, self._tail)
        _add(fading, self._some_words(math.ceil(self._open * self._fade), -1))
        return fading

    def _mixed(self, frames: int) -> Floats:
        """The tail of what was stopped, tones, and words from where the last tone ends."""
        import numpy as np

        mixed = np.zeros(frames, np.float32)
        if self._tail is not None:
            _add(mixed, self._tail)
            self._tail = self._tail[frames:] if len(self._tail) > frames else None
        tone = self._tones.take(frames)
        _add(mixed, tone)
        if len(tone):
            closing = min(len(tone), math.ceil(self._open * self._fade))
            _add(mixed, self._some_words(closing, -1))
        _add(mixed[len(tone) :], self._some_words(frames - len(tone), 1))
        clipped: Floats = mixed.clip(-1.0, 1.0)
        return clipped

    def _some_words(self, frames: int, direction: int) -> Floats:
        """The next words, being let through more (1) or less (-1) with every sample."""
        import numpy as np

        words = self._words.take(frames)
        steps = direction * np.arange(1, len(words) + 1, dtype=np.float32) / self._fade
        opening = (self._open + steps).clip(0.0, 1.0)
        if len(words):
            self._open = float(opening[-1]) if self._words.left else 0.0
        heard: Floats = words * opening
        return heard


class _Lane:
    """Sounds in a row."""

    def __init__(self) -> None:
        self._waiting: deque[tuple[Floats, bool]] = deque()
        self.left = 0

    def put(self, samples: Floats, *, keep: bool) -> None:
        if len(samples):
            self._waiting.append((samples, keep))
            self.left += len(samples)

    def shorten(self, most: int) -> None:
        """Drop sounds that wait behind the first and need not be kept, the oldest of them first,
        down to so many samples.
        """
        for waiting in list(self._waiting)[1:]:
            if self.left > most and not waiting[1]:
                self.left -= len(waiting[0])
                self._waiting = deque(one for one in self._waiting if one is not waiting)

    def take(self, frames: int) -> Floats:
        """At most so many samples, fewer at the end."""
        import numpy as np

        parts: list[Floats] = []
        wanted = min(frames, self.left)
        self.left -= wanted
        while wanted:
            first, keep = self._waiting.popleft()
            parts.append(first[:wanted])
            if len(first) > wanted:
                self._waiting.appendleft((first[wanted:], keep))
            wanted -= len(parts[-1])
        return np.concatenate(parts) if parts else np.zeros(0, np.float32)


def _add(mixed: Floats, sound: Floats) -> None:
    """Lay a sound over the beginning of what is mixed."""
    both = min(len(mixed), len(sound))
    mixed[:both] += sound[:both]
