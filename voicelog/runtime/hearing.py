"""The sound side of a running inspection: blocks in, utterances out, most of them already decoded.

An utterance is closed by a set silence. As soon as so much silence has passed that its clip can no
longer change, it is decoded, so that the text is there when the silence is complete: the wait that
telling utterances apart needs anyway pays for the ear's work.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from time import monotonic

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.incoming import Sound
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip
from voicelog.recognise.port import Ear, hear_clip

HELD_S = 0.5
"""Sound kept while the pedal is up: a word begun together with the pedal is heard whole."""

LOOK_S = 0.2
"""How often the ear is given more of an open utterance; it decides itself when to decode anew."""


@dataclass(frozen=True, slots=True)
class Uttered:
    """An utterance that has ended.

    Args:
        clip: its sound.
        offset_s: where its source begins, on the clock of the sound that came in.
        ended_s: when the sound came in that decided that it had ended, on the same clock.
        heard: what the ear made of it; None where it was not asked yet.
        decode_s: how long the ear took, where it was asked before the end was decided.
    """

    clip: Clip
    offset_s: float
    ended_s: float
    heard: Heard | None = None
    decode_s: float = 0.0


class Hearing:
    """Cuts incoming sound into utterances.

    Args:
        ear: the recogniser; used between utterances only by this one.
        settings: how utterances are told apart.
        endpointer: what tells them apart; made from the settings when left out.
        clock: seconds that only go up.
    """

    def __init__(
        self,
        ear: Ear,
        settings: Settings,
        *,
        endpointer: Endpointer | None = None,
        clock: Callable[[], float] = monotonic,
    ) -> None:
        self._ear, self._clock = ear, clock
        self._endpointer = endpointer or Endpointer(
            silence_s=settings.silence_s,
            preroll_s=settings.preroll_s,
            longest_s=settings.longest_s,
        )
        self._fed = 0
        self._at_s = 0.0
        self._guess: Uttered | None = None
        self._given = 0
        self._partial, self._look_s = "", 0.0
        self._held = bytearray()

    @property
    def speaking(self) -> bool:
        """True while an utterance is open."""
        return self._endpointer.speaking

    @property
    def is_open(self) -> bool:
        """True while anything is open that may become an utterance."""
        return self._endpointer.is_open

    @property
    def reading(self) -> bool:
        """The open utterance seems to have ended, and its text is known."""
        return self._guess is not None and self._guess.clip is self._endpointer.likely()

    @property
    def noise_dbfs(self) -> float:
        """Level between utterances, in dB below full scale."""
        return self._endpointer.noise_dbfs

    def use(self, ear: Ear) -> None:
        """From now on this ear makes the words, of the utterance that is open too."""
        self._ear, self._given, self._guess = ear, 0, None

    def take(self, sound: Sound, *, early: bool = True) -> list[Uttered]:
        """The utterances that this sound closed.

        Args:
            sound: what came in.
            early: decode an utterance that is about to end; not while catching up.
        """
        self._at_s = sound.at_s
        pcm = bytes(self._held) + sound.pcm
        self._held.clear()
        self._fed += len(pcm) // BYTES_PER_SAMPLE
        ended = [self._uttered(clip) for clip in self._endpointer.feed(pcm)]
        if early:
            self._decode_early()
        return ended

    def hold(self, sound: Sound) -> None:
        """Sound that is not to be heard (the pedal is up); its last moment is kept for later."""
        self._held += sound.pcm
        excess = len(self._held) - int(HELD_S * SAMPLE_RATE) * BYTES_PER_SAMPLE
        if excess > 0:
            del self._held[: excess + excess % BYTES_PER_SAMPLE]

    def cut(self) -> list[Uttered]:
        """Close what is open now: the pedal went up, sound was lost, or there is no more."""
        ended = [self._uttered(clip) for clip in self._endpointer.gap()]
        self._held.clear()
        return ended

    def partial(self) -> str:
        """What the open utterance sounds like so far; empty between utterances.

        In a pause the ear is left alone: if it was the end, it is needed for more than a look.
        """
        if not self.speaking:
            self._partial = ""
        elif not self._endpointer.pausing and self._clock() >= self._look_s:
            self._look_s = self._clock() + LOOK_S
            pcm = self._endpointer.open_pcm()
            self._ear.feed(pcm[self._given :])
            self._given = len(pcm)
            self._partial = self._ear.partial()
        return self._partial

    def _decode_early(self) -> None:
        clip = self._endpointer.likely()
        if clip is not None and (self._guess is None or self._guess.clip is not clip):
            self._guess = self._decoded(clip)

    def _decoded(self, clip: Clip) -> Uttered:
        self._forget_partial()
        begun = self._clock()
        heard = hear_clip(self._ear, clip)
        return Uttered(clip, 0.0, 0.0, heard, self._clock() - begun)

    def _uttered(self, clip: Clip) -> Uttered:
        self._forget_partial()
        guess, self._guess = self._guess, None
        offset_s = self._at_s - self._fed / SAMPLE_RATE
        if guess is None or guess.clip.pcm != clip.pcm:
            return Uttered(clip, offset_s, self._at_s)
        return replace(guess, clip=clip, offset_s=offset_s, ended_s=self._at_s)

    def _forget_partial(self) -> None:
        if self._given:
            self._ear.forget()
            self._given = 0
