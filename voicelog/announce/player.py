"""Playing sound, or pretending to: with no speaker, or once it is lost, time passes all the same.

The speaker's stream stays open and plays silence between sounds, so that a tone need not wait for a
device to wake. Whoever plays never meets an error of the device: :attr:`Player.why` tells it, and
``on_fault`` is told once.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from threading import Lock
from typing import TYPE_CHECKING, Any

from voicelog.announce.mixer import Mixer
from voicelog.announce.speaker import Speaker, portaudio
from voicelog.errors import VoiceFault
from voicelog.tongue import worded

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

SILENT_HZ = 48_000
"""The sample rate of a player without a speaker."""

STALLED_S = 1.0
"""A speaker that has asked for no sound for so long, while there is some, is gone."""

RETRY_S = 5.0
"""How often a speaker that is not there is looked for."""


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
        self._pace, self._swap = Lock(), Lock()  # no stream is closed while it holds the latter
        self._until_s = self._next_s = self._look_at_s = clock()
        self._words_until_s = -math.inf
        self.why = silent
        if not silent:
            self.reopen()

    @property
    def device(self) -> str:
        """The speaker's name; empty when nobody can hear."""
        speaker = self._speaker  # read once: any thread may lose it
        return "" if speaker is None else speaker.name

    @property
    def rate_hz(self) -> int:
        """Samples a second of the speaker: sound at this rate needs no conversion."""
        return self._mixer.rate_hz

    @property
    def latency_s(self) -> float:
        """From a sample being handed over until it is heard."""
        speaker = self._speaker
        return 0.0 if speaker is None else speaker.latency_s

    def now(self) -> float:
        """Seconds on the clock that times what is played."""
        return self._clock()

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

    @property
    def words_until_s(self) -> float:
        """When the last words heard ended, or will end once all that wait are out; ``-inf`` when
        there were none. Words that wait count only while there is a speaker.
        """
        left = self._mixer.left(words_only=True)
        if not left or self._speaker is None:
            return self._words_until_s
        return max(self._clock(), self._next_s) + self.latency_s + left / self.rate_hz

    def play(
        self, samples: Floats, rate_hz: int, *, tone: bool = False, keep: bool = False
    ) -> float:
        """Play after what is waiting; a tone goes before all words, even those being said.

        Args:
            samples: mono, -1 to 1, shape (samples,); not to be changed afterwards.
            rate_hz: samples a second.
            tone: no words.
            keep: a tone that no later one may crowd out.

        Returns:
            When its first sample is heard, on this player's clock.
        """
        self._keep_time()
        if self._speaker is None:
            self._tell()
        sound = resampled(samples, rate_hz, self.rate_hz)
        ahead = self._mixer.put(sound, tone=tone, keep=keep)
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
        if self._speaker is None:
            self._keep_time()  # what would have been heard by now waits no longer
        with self._swap:
            held = [*self._lost, *([] if self._speaker is None else [self._speaker])]
            self._speaker, self._lost, self._next_s = None, [], self._clock()
            self.why, self._let_go = self.why or worded("The speaker was let go"), True
        for speaker in held:
            speaker.close()

    def reopen(self) -> bool:
        """Look for the speaker (again), and say whether there is sound.

        What waits is dropped where the speaker's rate is another than before.
        """
        self.release()
        self._let_go, self._look_at_s = False, self._clock() + RETRY_S
        try:
            self._library = self._library or portaudio()
            self._start(Speaker(self._wanted, self._fill, self._speaker_lost, self._library))
        except VoiceFault as fault:
            with self._swap:
                self._speaker, self.why = None, str(fault)
        return self._speaker is not None

    def retry(self) -> bool:
        """Look for a speaker that is not there: at once after a loss, yet no sooner than
        :data:`RETRY_S` after the last look. Costs nothing while nothing is to be done.

        For the thread that lets the speaker go and opens it again, and no other.

        Returns:
            There is sound, and was none before.
        """
        missing = self._speaker is None and not self._let_go and self._library is not None
        return missing and self._clock() >= self._look_at_s and self.reopen()

    def close(self) -> None:
        """Fall silent and let the device go, for good."""
        self._mixer.stop()
        self.release()
        self.why = worded("The player was closed")

    def _start(self, speaker: Speaker) -> None:
        if speaker.rate_hz != self.rate_hz:
            self._mixer = Mixer(speaker.rate_hz)
        speaker.start()  # may take a while, and must not be taken for a stall
        with self._swap:
            self._speaker, self.why, self._next_s = speaker, "", self._clock()

    def _fill(self, speaker: Speaker, frames: int) -> Floats:
        """The next samples, for the device's own thread; silence for a device given up, which may
        come back to life while time passes without it.
        """
        import numpy as np

        if speaker is not self._speaker:
            return np.zeros(frames, np.float32)
        self._said = False  # it works: its loss would be news
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
        speaker = self._speaker
        if speaker is not None:
            if self._mixer.left() and now > self._next_s + STALLED_S:
                self._speaker_lost(speaker, worded("it asks for no more sound"))
            return
        with self._pace:
            frames = int((now - self._next_s) * self.rate_hz)
            if frames > 0:
                self._mixer.take(min(frames, self._mixer.left()))
                self._next_s += frames / self.rate_hz

    def _speaker_lost(self, speaker: Speaker, why: str) -> None:
        with self._swap:
            if speaker is not self._speaker:
                return
            self._speaker, self._next_s = None, self._clock()
            self._lost.append(speaker)  # closed later: this may be the device's own thread
            self.why = worded("The speaker {name} is lost: {why}", name=speaker.name, why=why)
        self._tell()

    def _tell(self) -> None:
        with self._swap:
            tell, self._said = not (self._said or self._let_go), self._said or not self._let_go
        if tell:
            self._on_fault(self.why)


def resampled(samples: Floats, rate_hz: int, wanted_hz: int) -> Floats:
    """The same sound at another sample rate; untouched where there is nothing to do."""
    if rate_hz == wanted_hz or not len(samples):
        return samples
    import soxr

    resampled: Floats = soxr.resample(samples, rate_hz, wanted_hz)
    return resampled
