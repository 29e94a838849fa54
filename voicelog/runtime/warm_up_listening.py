"""Sentences asked for one at a time, and the sound that came for each."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.incoming import Dropped, Ended, Gone, Incoming, Sound, Source
from voicelog.capture.mute import WHY as MUTED
from voicelog.domain.heard import Heard
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip
from voicelog.interpret.reader import Reader
from voicelog.runtime.warm_up_prompts import Prompt
from voicelog.runtime.warm_up_takes import Take, take_of
from voicelog.tongue import joined, worded

PATIENCE_S = 10.0
"""Silence after which the next sentence is shown. Ours: time to find the place on the screen."""

_STEP_S = 0.1
"""How long a look at the source takes at most, and so how soon a key is noticed."""


class Wish(StrEnum):
    """What a person asks for with a key."""

    NEXT = "next"
    STOP = "stop"


class End(StrEnum):
    """How a warm-up ended."""

    DONE = "done"
    STOPPED = "stopped"
    MICROPHONE_LOST = "microphone-lost"
    SOUND_OVER = "sound-over"


class Watch(Protocol):
    """Whoever shows the sentences, and passes on what a person asks for."""

    def show(self, number: int, of: int, prompt: Prompt) -> None:
        """The next sentence, counted from 1."""

    def took(self, take: Take) -> None:
        """What was heard of it."""

    def note(self, text: str) -> None:
        """Something to know, in a sentence."""

    def tuning(self, done: int, of: int) -> None:
        """How far decoding again has come."""

    def wish(self) -> Wish | None:
        """What was asked for since the last look; asked several times a second."""


@dataclass(frozen=True, slots=True)
class Said:
    """One sentence with its sound, kept in memory until the tuning is over.

    Args:
        clip: the sound.
        take: what was heard of it.
        clipped: the device gave samples at its limit meanwhile.
    """

    clip: Clip
    take: Take
    clipped: bool = False


_Answer = Clip | Wish | End | None
"""What came of a sentence; None when nobody said anything."""


class Rounds:
    """Goes through the sentences once; :attr:`end` tells how that ended.

    Args:
        source: where the sound comes from.
        endpointer: what cuts it into utterances.
        hear: what an ear makes of an utterance.
        reader: of the grammar in force.
        watch: whoever shows it.
        skips: what can be said to skip a sentence, in lower case.
    """

    def __init__(
        self,
        source: Source,
        endpointer: Endpointer,
        hear: Callable[[Clip], Heard],
        reader: Reader,
        watch: Watch,
        *,
        skips: Sequence[str] = ("next",),
    ) -> None:
        self._source, self._endpointer, self._watch = source, endpointer, watch
        self._hear, self._reader, self._skips = hear, reader, frozenset(skips)
        self._closed: deque[Clip] = deque()
        self._over = self._clipped = False
        self.end = End.DONE

    def said(self, prompts: Sequence[Prompt]) -> Iterator[Said]:
        """Every sentence that was said, as soon as it was heard.

        Raises:
            VoicelogError: the sound or the ear failed for good.
        """
        for number, prompt in enumerate(prompts, 1):
            self._watch.show(number, len(prompts), prompt)
            answer = self._answer()
            if isinstance(answer, Clip):
                said = self._taken(prompt, answer)
                if said is not None:
                    yield said
            elif answer is None:
                self._watch.note(
                    worded(
                        "Nothing was heard for {seconds} s; here is the next one.",
                        seconds=f"{PATIENCE_S:g}",
                    )
                )
            elif answer is not Wish.NEXT:
                self.end = End.STOPPED if answer is Wish.STOP else End(answer)
                return

    def _taken(self, prompt: Prompt, clip: Clip) -> Said | None:
        heard = self._hear(clip)
        if _plain(heard.text) in self._skips:
            return None
        take = take_of(prompt, heard, self._reader)
        self._watch.took(take)
        return Said(clip, take, self._clipped)

    def _answer(self) -> _Answer:
        """Listen until an utterance closes, a key is pressed, or patience or sound are at an end."""
        quiet_s, self._clipped = 0.0, False
        while not self._closed:
            wish = self._watch.wish()
            if wish is not None:
                return wish
            if self._over:
                return End.SOUND_OVER
            if quiet_s >= PATIENCE_S:
                return None
            came = self._source.read(_STEP_S)
            if isinstance(came, Gone) and came.why != MUTED:
                self._watch.note(
                    worded(
                        "{device} gives no sound any more: {why}", device=came.device, why=came.why
                    )
                )
                return End.MICROPHONE_LOST
            lasted_s = self._take(came)
            quiet_s = 0.0 if self._endpointer.speaking else quiet_s + lasted_s
        return self._closed.popleft()

    def _take(self, came: Incoming | None) -> float:
        """Take what came in; how long it lasted, in seconds."""
        match came:
            case Sound():
                self._clipped |= came.clipped
                self._closed.extend(self._endpointer.feed(came.pcm))
                return len(came.pcm) / BYTES_PER_SAMPLE / SAMPLE_RATE
            case Dropped():
                self._watch.note(
                    worded(
                        "{seconds} s of sound were lost: {why}",
                        seconds=f"{came.lost_s:.1f}",
                        why=came.why,
                    )
                )
            case Gone():
                self._watch.note(joined(": ", (came.device, came.why)))
            case Ended():
                self._closed.extend(self._endpointer.finish())
                self._over = True
            case None:
                return _STEP_S
        return 0.0


def _plain(text: str) -> str:
    """Words without case and punctuation, to be compared."""
    return " ".join("".join(c if c.isalnum() else " " for c in text.lower()).split())
