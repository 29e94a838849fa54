"""Answering: a tone goes out at once, its words follow as soon as they are made.

While words are in the air the ear should be deaf (:attr:`Announcer.talking`), for it would write them
down. For tones it need not be: none of them is taken for speech, which a test holds, and a person
who talks over one is heard.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Condition, Thread
from typing import Any

from voicelog.announce.lookup import open_voice
from voicelog.announce.player import Player, nobody_asks, resampled
from voicelog.announce.text import pieces, speakable
from voicelog.announce.tones import render
from voicelog.announce.voice import Voice
from voicelog.domain.signal import Signal
from voicelog.tongue import worded

AFTER_TONE_S = 0.2
"""Silence after a tone, before its words or the next tone: two rhythms must not become one."""

AFTER_WORDS_S = 0.15
"""Silence after words, which counts as talking: the room still carries the last of them."""

FIRST_WORDS = (
    "left kick-up, outrigger, right rear spring hanger, hole, thirty five millimetres, within three"
    " hundred millimetres of the mount, unsafe, undershield, unproven"
)
"""Made, not played, when the thread starts: the model is loaded before it is waited for, and has
taken the memory that it needs for a long sentence and for words in no dictionary."""

KEPT = frozenset({Signal.UNSAFE, Signal.MICROPHONE_LOST, Signal.QUESTION, Signal.REFUSED})
"""Tones that a burst of others never crowds out; ordinary acknowledgements give way."""

LOOK_S = 0.02
"""How often :meth:`Announcer.wait` looks."""


class Announcer:
    """Plays signals and says sentences; every method may be called from any thread and but for
    :meth:`wait` and :meth:`close` returns at once.

    Args:
        player: where sound goes; closed with the announcer.
        voice: who speaks; used on the announcer's own thread only.
        on_fault: told once, in a sentence, when the voice fails; the tones go on.
    """

    def __init__(
        self, player: Player, voice: Voice, *, on_fault: Callable[[str], None] = nobody_asks
    ) -> None:
        self._player, self._voice, self._on_fault = player, voice, on_fault
        self._waiting: deque[str] = deque()
        self._changed = Condition()
        self._turn = 0  # goes up whenever what was asked for before no longer counts
        self._busy: int | None = None  # the turn of the words being made
        self._closed = self._told = False
        self._thread = Thread(target=self._work, name="voice", daemon=True)
        self._thread.start()

    @property
    def audible(self) -> bool:
        """There is a speaker; without one, time passes as if there were."""
        return bool(self._player.device)

    @property
    def why(self) -> str:
        """Why nobody can hear it, in a sentence; empty while there is a speaker."""
        return self._player.why

    @property
    def speaking(self) -> bool:
        """Words or a tone are in the air, or on their way."""
        return self.talking or self._player.playing

    @property
    def talking(self) -> bool:
        """Words are in the air, or on their way."""
        with self._changed:
            coming = bool(self._waiting) or self._busy == self._turn
        return coming or self._player.playing_words

    @property
    def aloud(self) -> bool:
        """Words are in the air, and somebody can hear them."""
        return self.audible and self._player.playing_words

    @property
    def talked_until_s(self) -> float:
        """When its last words ended, on the player's clock; now or later while it talks and can be
        heard, as far as is known; ``-inf`` when it never said any.
        """
        talking, until_s = self.audible and self.talking, self._player.words_until_s
        return max(until_s, self._player.now()) if talking else until_s

    def look_again(self) -> bool:
        """Look for a speaker that is missing, now and then; to be called often, by the thread that
        uses :meth:`aside`. Costs nothing while there is one.

        Returns:
            There is one, and was none before.
        """
        return self._player.retry()

    def signal(self, signal: Signal) -> float:
        """Play a tone now, even in the middle of a sentence, which goes on after it.

        Returns:
            When its beginning is heard, on the player's clock.
        """
        import numpy as np

        rate_hz = self._player.rate_hz
        after = np.zeros(round(AFTER_TONE_S * rate_hz), np.float32)
        return self._player.play(
            np.concatenate([render(signal, rate_hz), after]),
            rate_hz,
            tone=True,
            keep=signal in KEPT,
        )

    def say(self, text: str, *, signal: Signal | None = None, urgent: bool = False) -> float:
        """Say something after what is waiting; nothing while nobody can hear it.

        Args:
            text: plain words.
            signal: a tone before them, played at once.
            urgent: all other words fall silent first, and are dropped; tones are not.

        Returns:
            When the tone is heard, on the player's clock; now, where there is none.
        """
        if urgent:
            self._drop(words_only=True)
        heard_s = self._player.now() if signal is None else self.signal(signal)
        if not self.audible:  # the ear must not be deaf for words that nobody hears
            return heard_s
        with self._changed:
            self._waiting.extend(pieces(speakable(text)))
            self._changed.notify_all()
        return heard_s

    def hush(self) -> None:
        """Fall silent now, and forget all that was to be said."""
        self._drop(words_only=False)

    def wait(self, timeout_s: float) -> bool:
        """Wait until everything was said.

        Returns:
            It was, within that time.
        """
        until_s = time.monotonic() + timeout_s
        while self.speaking:
            if time.monotonic() >= until_s:
                return False
            time.sleep(LOOK_S)
        return True

    @contextmanager
    def aside(self) -> Iterator[bool]:
        """Let the speaker go while PortAudio is started anew, which frees every stream.

        Gives False, and keeps it, while something is being said.
        """
        if self.speaking:
            yield False
            return
        self._player.release()
        try:
            yield True
        finally:
            self._player.reopen()

    def close(self) -> None:
        """Fall silent and let the speaker go."""
        self.hush()
        with self._changed:
            self._closed = True
            self._changed.notify_all()
        self._thread.join(timeout=2.0)  # it may be loading a model: not worth waiting for
        self._player.close()

    def _drop(self, *, words_only: bool) -> None:
        with self._changed:
            self._turn += 1
            self._waiting.clear()
            self._player.stop(words_only=words_only)

    def _work(self) -> None:
        if self.audible:
            self._made(FIRST_WORDS)
        while (asked := self._next()) is not None:
            self._speak(*asked)

    def _next(self) -> tuple[str, int] | None:
        """Wait for words; None when there will be no more."""
        with self._changed:
            self._busy = None
            self._changed.wait_for(lambda: self._waiting or self._closed)
            if self._closed:
                return None
            self._busy = self._turn
            return self._waiting.popleft(), self._turn

    def _speak(self, text: str, turn: int) -> None:
        """Make and play a piece, unless it was hushed meanwhile."""
        import numpy as np

        rate_hz = self._player.rate_hz
        samples = self._made(text) if self.audible else ()
        if not len(samples):
            return
        after = np.zeros(round(AFTER_WORDS_S * rate_hz), np.float32)
        with self._changed:
            if turn == self._turn:
                self._player.play(np.concatenate([samples, after]), rate_hz)

    def _made(self, text: str) -> Any:
        """The sound of a piece at the player's rate; none when the voice fails, told once."""
        try:
            spoken = self._voice.speak(text)
            return resampled(spoken.samples, spoken.rate_hz, self._player.rate_hz)
        except Exception as fault:  # a thread that dies would leave all words unsaid from here on
            if not self._told:
                self._told = True
                self._on_fault(worded("Nothing can be said aloud: {fault}", fault=fault))
            return ()


def open_announcer(
    voice: str = "auto",
    speaker: str | int | None = None,
    *,
    on_fault: Callable[[str], None] = nobody_asks,
    library: Any = None,
) -> Announcer:
    """An announcer for this machine. Without a speaker it plays to nobody and says nothing, until
    :meth:`Announcer.look_again` finds one.

    Args:
        voice: as for :func:`~voicelog.announce.lookup.open_voice`.
        speaker: its number, or a part of its name; None means the system's.
        on_fault: told in a sentence, once each, that there is no speaker (at the first tone), that
            it was lost, that the voice fails.
        library: stands in for the module ``sounddevice``.

    Raises:
        UsageFault: there is no voice of that name.
        VoiceFault: the voice named cannot be used here.
    """
    chosen = open_voice(voice)
    return Announcer(Player(speaker, library=library, on_fault=on_fault), chosen, on_fault=on_fault)
