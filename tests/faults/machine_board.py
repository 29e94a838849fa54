"""A sound card that obeys: a microphone in a quiet room that plays recordings when told to, and a
loudspeaker that takes as long as a real one. In place of the module ``sounddevice``.
"""

from __future__ import annotations

import argparse
import time
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from threading import Event, Thread, current_thread
from types import SimpleNamespace
from typing import Any

import numpy as np

from voicelog.capture.pretend import Fate, PretendError, PretendLibrary
from voicelog.capture.pretend_stream import PretendInput
from voicelog.capture.source import read_audio
from voicelog.config.data import samples_dir

NAME = "Workbench microphone"
BLOCK_S = 0.02
HEARD_FROM = 0.001
"""A sample above this is sound."""
BEHIND_S = 1.5
"""So far behind, the card has lost what it had no room for: the process was stopped."""


class Board(PretendLibrary):
    """One card, with one microphone and one loudspeaker.

    Args:
        asked: its rates.
        note: told what is heard.
    """

    def __init__(self, asked: argparse.Namespace, note: Callable[[str, str], None]) -> None:
        self._asked, self._note = asked, note
        self._queue: deque[np.ndarray] = deque()
        self._noise = np.random.default_rng(1909)
        self.loud = 1.0
        self.numbers = True
        self.speaker = Fate(there=not asked.mute_house, seen=not asked.mute_house)
        self._gives_hz = asked.gives_hz or asked.rate_hz
        super().__init__(self._blocks(), name=NAME, rate_hz=asked.rate_hz)

    def obey(self, name: str, rest: str) -> None:
        """Do one thing: say, lose, give-back, stall, mute, overflow, loud, rubbish, …"""
        deeds: Mapping[str, Callable[[], object]] = {
            "say": lambda: self._say(rest),
            "lose": self.lose,
            "give-back": self.give_back,
            "stall": lambda: self.stall(rest != "no"),
            "mute": lambda: self.mute(rest != "no"),
            "overflow": lambda: self.overflow(float(rest)),
            "loud": lambda: setattr(self, "loud", float(rest)),
            "rubbish": lambda: setattr(self, "numbers", rest == "no"),
            "lose-speaker": lambda: setattr(self.speaker, "there", False),
            "give-back-speaker": lambda: setattr(self.speaker, "there", True),
        }
        deeds[name]()

    def _say(self, name: str) -> None:
        pcm = b"".join(read_audio(samples_dir() / f"{name}.flac"))
        sound = np.frombuffer(pcm, "<i2").astype(np.float32) / 32768
        if self._gives_hz != 16_000:
            import soxr

            sound = soxr.resample(sound, 16_000, self._gives_hz)
        for at in range(0, len(sound), 320):
            self._queue.append(sound[at : at + 320])

    def _blocks(self) -> Iterator[np.ndarray]:
        while True:
            room = self._noise.standard_normal(320).astype(np.float32) * 10 ** (-72 / 20)
            block = self._queue.popleft() if self._queue else room
            block = (block * self.loud).clip(-1.0, 1.0)
            yield (block if self.numbers else np.full_like(block, np.nan))[:, None]

    # --- what sounddevice has -------------------------------------------------------------------

    @property
    def default(self) -> SimpleNamespace:
        """Microphone 0, loudspeaker 1, where they are there."""
        return SimpleNamespace(device=(0 if self.fate.seen else -1, 1 if self.speaker.seen else -1))

    def query_devices(self) -> Sequence[Mapping[str, Any]]:
        """What was there when it was looked last."""
        says = self._asked.says_hz or self.rate_hz
        kinds = ((self.fate, NAME, 1, 0, says), (self.speaker, "Workbench speaker", 0, 2, 48_000))
        return [
            {"name": name, "hostapi": 0, "default_samplerate": float(hz),
             "max_input_channels": ins if fate.seen else 0,
             "max_output_channels": outs if fate.seen else 0}
            for fate, name, ins, outs, hz in kinds
        ]  # fmt: skip

    def OutputStream(self, **asked: Any) -> Loudspeaker:  # noqa: N802
        """Open the loudspeaker.

        Raises:
            PretendError: it is not there.
        """
        if not (self.speaker.there and self.speaker.seen):
            raise PretendError("Device unavailable")
        return Loudspeaker(self.speaker, self._note, **asked)

    def _initialize(self) -> None:
        super()._initialize()
        self.speaker.seen = self.speaker.there

    def InputStream(self, **asked: Any) -> PretendInput:  # noqa: N802
        """Open the microphone.

        Raises:
            PretendError: it is not there, or cannot what is asked for.
        """
        self._refuse(asked, 1)
        stream = Overrunning(self, self._gives_hz / self.rate_hz, **asked)
        self._streams.append(stream)
        return stream


class Overrunning(PretendInput):
    """As a card does it: what comes in while the process stands still is lost, and told so.

    Args:
        library: the card.
        pace: frames that really come, to those that should.
    """

    def __init__(self, library: Board, pace: float, **asked: Any) -> None:
        super().__init__(library, **asked)
        self._card, self._pace, self._skipped_s = library, pace, 0.0
        self._begun_s = library.now()

    def _wait_until(self, due_s: float) -> bool:
        due_s = self._begun_s + (due_s - self._begun_s) / self._pace + self._skipped_s
        behind_s = self._card.now() - due_s
        if behind_s > BEHIND_S:
            self._card.overflow(behind_s)
            self._skipped_s += behind_s
            due_s += behind_s
        return super()._wait_until(due_s)


class Loudspeaker:
    """Asks for sound at the pace of real time, and listens to it."""

    latency = 0.01

    def __init__(
        self, fate: Fate, note: Callable[[str, str], None], *, samplerate: float,
        callback: Callable[..., None], finished_callback: Callable[[], None], channels: int,
        **_more: Any,
    ) -> None:  # fmt: skip
        self._fate, self._note, self._callback = fate, note, callback
        self._finished, self.closed = finished_callback, False
        self._buffer = np.zeros((round(samplerate * BLOCK_S), channels), np.float32)
        self._stop = Event()
        self._thread = Thread(target=self._run, name="loudspeaker", daemon=True)

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def close(self) -> None:
        """Let go."""
        self._stop.set()
        self.closed = True
        if self._thread.is_alive() and self._thread is not current_thread():
            self._thread.join(1.0)

    def _run(self) -> None:
        due_s, silent_s = time.monotonic(), 1.0
        while not self._stop.is_set() and self._fate.there:
            times = SimpleNamespace(outputBufferDacTime=due_s + self.latency, currentTime=due_s)
            with suppress(Exception):
                self._callback(self._buffer, len(self._buffer), times, 0)
            silent_s = 0.0 if np.abs(self._buffer).max() > HEARD_FROM else silent_s + BLOCK_S
            due_s += BLOCK_S
            self._stop.wait(max(0.0, due_s - time.monotonic()))
        self._finished()
