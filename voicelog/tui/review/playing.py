"""Playing the sound of an entry: from its start or a word, slower, over and over."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Protocol

from voicelog.runtime.bench_sound import Sounded
from voicelog.tongue import to_word, worded

if TYPE_CHECKING:
    from numpy import int16
    from numpy.typing import NDArray

SPEEDS = (1.0, 0.75, 0.5)
"""Of a clip, in the order in which the key goes through them."""

HOW = to_word("p from [word], ← → choose, v slower, l loop")
"""What can be done with a sound, beside what the foot of the screen tells."""


class Deck(Protocol):
    """What plays; :class:`voicelog.announce.clip_player.ClipPlayer` is one."""

    @property
    def why(self) -> str:
        """Why nobody can hear it; empty while there is a speaker."""

    @property
    def why_full_speed(self) -> str:
        """Why it cannot be slower; empty where it can."""

    @property
    def position_s(self) -> float | None:
        """Where in the clip the sound is; None when none is."""

    @property
    def finished_whole(self) -> bool:
        """It was heard from start to end since it was loaded."""

    def load(self, samples: NDArray[int16], rate_hz: int) -> None:
        """Take another clip."""

    def play(
        self,
        from_s: float = 0.0,
        to_s: float | None = None,
        *,
        speed: float = 1.0,
        loop: bool = False,
    ) -> None:
        """Play it."""

    def stop(self) -> None:
        """Fall silent."""

    def look_again(self) -> bool:
        """Look for a speaker that is missing."""

    def close(self) -> None:
        """Let the speaker go."""


class LateDeck:
    """A deck that is made when the first clip is to be played: looking for speakers takes time.

    Args:
        make: opens what plays.
    """

    def __init__(self, make: Callable[[], Deck]) -> None:
        self._make = make
        self._deck: Deck | None = None

    @property
    def why(self) -> str:
        """Why nobody can hear it; not known before it is made."""
        return "" if self._deck is None else self._deck.why

    @property
    def why_full_speed(self) -> str:
        """Why it cannot be slower."""
        return "" if self._deck is None else self._deck.why_full_speed

    @property
    def position_s(self) -> float | None:
        """Where in the clip the sound is."""
        return None if self._deck is None else self._deck.position_s

    @property
    def finished_whole(self) -> bool:
        """It was heard from start to end."""
        return self._deck is not None and self._deck.finished_whole

    def load(self, samples: NDArray[int16], rate_hz: int) -> None:
        """Take another clip."""
        self._made().load(samples, rate_hz)

    def play(
        self,
        from_s: float = 0.0,
        to_s: float | None = None,
        *,
        speed: float = 1.0,
        loop: bool = False,
    ) -> None:
        """Play it."""
        self._made().play(from_s, to_s, speed=speed, loop=loop)

    def stop(self) -> None:
        """Fall silent."""
        if self._deck is not None:
            self._deck.stop()

    def look_again(self) -> bool:
        """Look for a speaker that is missing."""
        return self._made().look_again()

    def close(self) -> None:
        """Let the speaker go."""
        if self._deck is not None:
            self._deck.close()

    def _made(self) -> Deck:
        if self._deck is None:
            self._deck = self._make()
        return self._deck


class Playing:
    """What is on the deck, and how it is played.

    Args:
        deck: what plays.
    """

    def __init__(self, deck: Deck) -> None:
        self.deck = deck
        self.loop = False
        self._speed = 0
        self._loaded = ""
        self._from_s = 0.0
        self._told = False

    @property
    def speed(self) -> float:
        """Of the clip, 1 as it was spoken."""
        return 1.0 if self.deck.why_full_speed else SPEEDS[self._speed]

    @property
    def utterance(self) -> str:
        """What is on the deck."""
        return self._loaded

    def start(self, sounded: Sounded, from_s: float = 0.0) -> None:
        """Play a sound from a moment on."""
        if self._loaded != sounded.utterance:
            from voicelog.domain.sound import SAMPLE_RATE

            self.deck.load(sounded.samples(), SAMPLE_RATE)
            self._loaded = sounded.utterance
        self._from_s = from_s
        if self.deck.why:
            self.deck.look_again()
        self.deck.play(from_s, speed=self.speed, loop=self.loop)

    def again(self) -> None:
        """The same once more, as it is to be played now; from where it is."""
        at_s = self.deck.position_s
        if at_s is not None:
            self.deck.play(self._from_s if self.loop else at_s, speed=self.speed, loop=self.loop)

    def slower(self) -> str:
        """The next speed; why not, where the machine cannot."""
        if self.deck.why_full_speed:
            return self.deck.why_full_speed
        self._speed = (self._speed + 1) % len(SPEEDS)
        self.again()
        return ""

    def unheard(self) -> str:
        """Why nobody hears it, told once; empty otherwise."""
        if self._told or not self.deck.why:
            return ""
        self._told = True
        return self.deck.why

    def words(self) -> str:
        """How it is played, and whether it is."""
        told = [worded("playing")] if self.deck.position_s is not None else []
        told += [worded("over and over")] if self.loop else []
        told += [worded("at {speed}", speed=f"{self.speed:.0%}")] if self.speed != 1.0 else []
        told += [worded("no speaker")] if self.deck.why else []
        return ", ".join(told)
