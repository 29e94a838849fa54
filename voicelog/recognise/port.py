"""The port every recogniser is reached through: sound in, one :class:`Heard` an utterance out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip


@dataclass(frozen=True, slots=True)
class Expected:
    """What is known beforehand of what will be said.

    Args:
        only: nothing but these phrases is of interest (stand-by waits for its end); empty where
            anything may be said.
        likely: phrases likelier than usual, beside all others: the options of an open question.
        placed: a place is carried over, so that a fault may be said without one.
    """

    only: tuple[str, ...] = ()
    likely: tuple[str, ...] = ()
    placed: bool = False


ANYTHING = Expected()
"""Nothing is known beforehand."""


class Ear(Protocol):
    """A recogniser. One utterance at a time; not safe to share between threads."""

    @property
    def engine(self) -> str:
        """Which kind of ear it is: ``built-in``, ``vosk``, ``second`` or ``typed``."""

    @property
    def model(self) -> str:
        """The model in use, with its version; empty where there is none."""

    def expect(self, expected: Expected) -> None:
        """Lean so from now on, the open utterance included; an ear that cannot ignores it.

        Cheap when nothing has changed, so that it may be called before every utterance.
        """

    def feed(self, pcm: bytes) -> None:
        """Take the next sound of the open utterance.

        Args:
            pcm: 16 kHz mono signed 16-bit little-endian samples, any whole number of them.

        Raises:
            EarFault: when this ear takes no sound.
        """

    def partial(self) -> str:
        """What the open utterance sounds like so far; to be shown, never to be stored."""

    def finish(self) -> Heard:
        """Close the utterance and say what was heard; the next :meth:`feed` opens a new one."""

    def forget(self) -> None:
        """Drop the open utterance unheard."""

    def close(self) -> None:
        """Let go of the model; the ear cannot be used afterwards."""


def hear_clip(ear: Ear, clip: Clip) -> Heard:
    """What the ear makes of one whole utterance."""
    ear.feed(clip.pcm)
    return ear.finish()
