"""Hearing a kept clip again: from anywhere in it, slower, over and over.

Nothing here waits, and there is no thread of its own: where the sound is now is worked out from the
clock whenever somebody asks, so a screen's cursor moves with no speaker too.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from threading import RLock
from typing import TYPE_CHECKING, Any

from voicelog.announce.clip_part import Part
from voicelog.announce.mixer import FADE_S
from voicelog.announce.player import Player, nobody_asks, resampled
from voicelog.announce.time_stretch import slower, why_not

if TYPE_CHECKING:
    from numpy import float32, int16
    from numpy.typing import NDArray

    Floats = NDArray[float32]

AGAIN_S = 0.4
"""Silence before a loop begins anew: one hears where the words end."""

LOOP_S = 600.0
"""A loop ends by itself after this: nobody listens any more."""


class ClipPlayer:
    """Plays one clip at a time; every method may be called from any thread and returns at once
    (making sound slower takes some 5 ms for each of its seconds).

    Args:
        player: where sound goes; closed with this one.
    """

    def __init__(self, player: Player) -> None:
        self._player = player
        self._lock = RLock()
        self._samples: Any = ()
        self._rate_hz = 1
        self._part: Part | None = None
        self._whole = False

    @property
    def why(self) -> str:
        """Why nobody can hear it, in a sentence; empty while there is a speaker."""
        return self._player.why

    @property
    def why_full_speed(self) -> str:
        """Why it cannot be played slower, in a sentence; empty where it can."""
        return why_not()

    @property
    def duration_s(self) -> float:
        """Of the clip; 0 while there is none."""
        return len(self._samples) / self._rate_hz

    @property
    def playing(self) -> bool:
        """Its sound is in the air, or on its way; with no speaker, it would be."""
        return self.position_s is not None

    @property
    def position_s(self) -> float | None:
        """Where in the clip the sound is that is heard now, at any speed; None when none is."""
        with self._lock:
            self._look()
            part = self._part
            return None if part is None else part.position_s(self._player.now())

    @property
    def finished_whole(self) -> bool:
        """Since it was loaded, the clip was played from its start to its end in one go, and there
        was a speaker to hear it through.
        """
        with self._lock:
            self._look()
            return self._whole

    def load(self, samples: NDArray[float32 | int16], rate_hz: int) -> None:
        """Take another clip; the one before falls silent.

        Args:
            samples: mono, shape (samples,): 16-bit integers, or -1 to 1; copied.
            rate_hz: samples a second.
        """
        import numpy as np

        scale = 32768.0 if samples.dtype == np.int16 else 1.0
        with self._lock:
            self.stop()
            self._samples = samples.astype(np.float32) / np.float32(scale)
            self._rate_hz, self._whole = rate_hz, False

    def play(
        self,
        from_s: float = 0.0,
        to_s: float | None = None,
        *,
        speed: float = 1.0,
        loop: bool = False,
    ) -> None:
        """Play it, or a part of it, instead of what is playing.

        Args:
            from_s: where to begin, in seconds of the clip; its ends are not overstepped.
            to_s: where to end; None means its end. Nothing is played where that lies no later.
            speed: 0.5 to 1.5 at the same pitch; 1 where :attr:`why_full_speed` says something.
            loop: over and over, until :meth:`stop` or :data:`LOOP_S`.

        Raises:
            ValueError: the speed is outside that.
        """
        with self._lock:
            self.stop()
            first_s = max(0.0, from_s)
            last_s = min(self.duration_s, math.inf if to_s is None else to_s)
            if first_s < last_s:
                self._begin(first_s, last_s, 1.0 if why_not() else speed, loop=loop)

    def stop(self) -> None:
        """Fall silent."""
        with self._lock:
            self._look()
            if self._part is not None:
                self._part = None
                self._player.stop(words_only=True)

    def look_again(self) -> bool:
        """Look for a speaker that is missing; to be called now and then, by one thread only.

        Returns:
            There is one, and was none before.
        """
        with self._lock:
            self._look()  # what went on without a speaker does not count as heard
        found = self._player.retry()
        if found:
            self.stop()  # the rest would come out late, beside its cursor
        return found

    def close(self) -> None:
        """Fall silent and let the speaker go."""
        self.stop()
        self._player.close()

    def _begin(self, from_s: float, to_s: float, speed: float, *, loop: bool) -> None:
        sound = self._made(from_s, to_s, speed, after_s=AGAIN_S if loop else 0.0)
        rate_hz = self._player.rate_hz
        every_s = len(sound) / rate_hz
        rounds = math.ceil(LOOP_S / every_s) if loop else 1
        whole = from_s == 0.0 and to_s == self.duration_s and bool(self._player.device)
        heard_s = self._player.play(sound, rate_hz)
        for _ in range(rounds - 1):
            self._player.play(sound, rate_hz)
        self._part = Part(from_s, to_s, speed, heard_s, every_s, rounds, whole)

    def _made(self, from_s: float, to_s: float, speed: float, *, after_s: float) -> Floats:
        """A part of the clip at the player's rate, without clicks, with silence after it."""
        import numpy as np

        rate_hz = self._player.rate_hz
        part = self._samples[math.floor(from_s * self._rate_hz) : math.ceil(to_s * self._rate_hz)]
        sound = resampled(slower(part, self._rate_hz, speed), self._rate_hz, rate_hz)
        from_its_ends = np.minimum(np.arange(len(sound)), np.arange(len(sound))[::-1])
        faded = sound * np.minimum(1.0, from_its_ends / (FADE_S * rate_hz), dtype=np.float32)
        made: Floats = np.append(faded, np.zeros(round(after_s * rate_hz), np.float32))
        return made

    def _look(self) -> None:
        """Notice that the speaker was lost, that the clip was heard whole, that it is over."""
        part = self._part
        if part is None:
            return
        sounding, now_s = self._player.playing_words, self._player.now()
        if part.whole and not self._player.device:
            part = self._part = replace(part, whole=False)
        if now_s >= part.heard_s + part.lasts_s and (part.rounds > 1 or not sounding):
            self._whole = self._whole or part.whole
        if now_s >= part.ends_s and not sounding:
            self._part = None


def open_clip_player(
    speaker: str | int | None = None,
    *,
    on_fault: Callable[[str], None] = nobody_asks,
    library: Any = None,
) -> ClipPlayer:
    """A clip player for this machine; without a speaker it plays to nobody, and says why.

    Args:
        speaker: its number, or a part of its name; None means the system's.
        on_fault: told in a sentence, once each, that there is no speaker (when the first clip is
            played) and that it was lost; must return at once.
        library: stands in for the module ``sounddevice``.
    """
    return ClipPlayer(Player(speaker, library=library, on_fault=on_fault))
