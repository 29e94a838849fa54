"""Playing sound, or pretending to: with no speaker, or once it is lost, time passes all the same.

The speaker's stream stays open and plays silence between sounds, so that a tone need not wait for a
device to wake. Whoever plays never meets an error of the device: :attr:`Player.why` tells it, and
``on_fault`` is told once.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from threading import Lock
from typing import TYPE_CHECKING, Any

from voicelog.announce.mixer import Mixer
from voicelog.announce.speaker import Speaker
from voicelog.errors import VoiceFault

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

SILENT_HZ = 48_000
"""The sample rate of a player without a speaker."""

STALLED_S = 1.0
"""A speaker that has asked for no sound for so long, while there is some, is gone."""


def nobody_asks(_why: str) -> None:
    """The ``on_fault`` of those who want to know nothing."""


class Player:
    """Sound to one speaker; every method may be called from any thread.

    Args:
        speaker: its number, or a part of its name; None means the system's.
        library: stands in for the module ``sounddevice``.
        clock: seconds that only go up.
        on_fault: told once in a sentence when there is no speaker (at the first sound) or it is
            lost; must return at once.
        silent: plays to nobody without looking for a speaker, for this reason.
    """

    def __init__(
        self,
        speaker: str | int | None = None,
        *,
        library: Any = None,
        clock: Callable[[], float] = time.monotonic,
        on_fault: Callable[[str], None] = nobody_asks,
        silent: str = "",
    ) -> None:
        self._wanted, self._library, self._clock = speaker, library, clock
        self._on_fault, self._said, self._let_go = on_fault, False, False
        self._mixer = Mixer(SILENT_HZ)
        self._speaker: Speaker | None = None
        self._lost: list[Speaker] = []
        self._pace = Lock()
        self._until_s = self._words_until_s = self._next_s = clock()
        self.why = silent
        if not silent:
            self.reopen()

    @property
    def device(self) -> str:
        """The speaker's name; empty when nobody can hear."""
        return "" if self._speaker is None else self._speaker.name

    @property
    def rate_hz(self) -> int:
        """Samples a second of the speaker: sound at this rate needs no conversion."""
        return self._mixer.rate_hz

    @property
    def latency_s(self) -> float:
        """From a sample being handed over until it is heard."""
        return 0.0 if self._speaker is None else self._speaker.latency_s

    @property
    def playing(self) -> bool:
        """Sound is on its way, or still leaving the speaker."""
        self._keep_time()
        return self._mixer.left() > 0 or self._clock() < self._until_s

    @property
    def playing_words(self) -> bool:
        """The same, for words only."""
        self._keep_time()
        return self._mixer.left(words_only=True) > 0 or self._clock() < self._words_until_s

    def play(self, samples: Floats, rate_hz: int, *, tone: bool = False) -> float:
        """Play after what is waiting; a tone goes before all words, even those being said.

        Args:
            samples: mono, -1 to 1, shape (samples,); not to be changed afterwards.
            rate_hz: samples a second.
            tone: no words.

        Returns:
            When its first sample is heard, on this player's clock.
        """
        self._keep_time()
        if self._speaker is None:
            self._tell()
        ahead = self._mixer.put(resampled(samples, rate_hz, self.rate_hz), tone=tone)
        return max(self._clock(), self._next_s) + self.latency_s + ahead / self.rate_hz

    def stop(self, *, words_only: bool = False) -> None:
        """Fade out within some 10 ms, plus what the device has already, and forget the rest.

        Args:
            words_only: tones go on.
        """
        self._keep_time()
        self._mixer.stop(words_only=words_only)

    def release(self) -> None:
        """Let the device go, before PortAudio is started anew; silent until :meth:`reopen`."""
        held = [*self._lost, *([] if self._speaker is None else [self._speaker])]
        self._speaker, self._lost, self._next_s = None, [], self._clock()
        self.why, self._let_go = self.why or "The speaker was let go", True
        for speaker in held:
            speaker.close()

    def reopen(self) -> bool:
        """Look for the speaker (again), and say whether there is sound.

        What waits is dropped where the speaker's rate is another than before.
        """
        self.release()
        self._let_go = False
        try:
            speaker = Speaker(self._wanted, self._fill, self._speaker_lost, library=self._library)
            if speaker.rate_hz != self.rate_hz:
                self._mixer = Mixer(speaker.rate_hz)
            self._speaker = speaker
            speaker.start()
        except VoiceFault as fault:
            self._speaker, self.why = None, str(fault)
            return False
        self.why, self._said = "", False
        return True

    def close(self) -> None:
        """Fall silent and let the device go, for good."""
        self._mixer.stop()
        self.release()
        self.why = "The player was closed"

    def _fill(self, frames: int) -> Floats:
        """The next samples; called by the device's own thread, or when time passes without one."""
        now, rate_hz = self._clock(), self.rate_hz
        out_s = now + self.latency_s
        left, words = self._mixer.left(), self._mixer.left(words_only=True)
        if left:
            self._until_s = out_s + min(left, frames) / rate_hz
        if words:
            self._words_until_s = out_s + min(words, frames) / rate_hz
        self._next_s = now + frames / rate_hz
        return self._mixer.take(frames)

    def _keep_time(self) -> None:
        """Without a speaker, let pass what would have been heard by now; notice one that stalls."""
        now = self._clock()
        if self._speaker is not None:
            if self._mixer.left() and now > self._next_s + STALLED_S:
                self._speaker_lost("it asks for no more sound")
            return
        with self._pace:
            frames = int((now - self._next_s) * self.rate_hz)
            if frames > 0:
                self._mixer.take(min(frames, self._mixer.left()))
                self._next_s += frames / self.rate_hz

    def _speaker_lost(self, why: str) -> None:
        speaker, self._speaker = self._speaker, None
        if speaker is None:
            return
        self._lost.append(speaker)  # closed later: this may be the device's own thread
        self._next_s = self._clock()
        self.why = f"The speaker {speaker.name} is lost: {why}"
        self._tell()

    def _tell(self) -> None:
        if not self._said and not self._let_go:
            self._said = True
            self._on_fault(self.why)


def resampled(samples: Floats, rate_hz: int, wanted_hz: int) -> Floats:
    """The same sound at another sample rate; untouched where there is nothing to do."""
    if rate_hz == wanted_hz or not len(samples):
        return samples
    import soxr

    resampled: Floats = soxr.resample(samples, rate_hz, wanted_hz)
    return resampled
