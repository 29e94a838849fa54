"""A live inspection on a disk that fails: what a person heard and saw, and what was acknowledged."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from queue import Queue
from typing import Any

import pytest
from crash_check import faults_of
from crash_child import taken
from crash_ear import Known, RememberingEar
from disk_calls import Between

from voicelog.config.settings import Settings
from voicelog.domain.signal import Talk
from voicelog.runtime.launching import Wishes, launch
from voicelog.runtime.messages import (
    Closed,
    Message,
    Noticed,
    SoundEnded,
    State,
    StateChanged,
    Told,
    Took,
)

SPEED = 4.0
"""How much faster than life recordings are played: the disk is tried again every half second."""


@dataclass
class Lived:
    """What an inspection showed.

    Args:
        into: where its log lies.
        acknowledged: utterances, as :func:`crash_child.taken` has them.
        said: what was answered beside the tones of utterances: the tone and the words.
        seen: what the screen told: states of a refusing disk with their reason, and notices.
        delays_s: from the end of each utterance to its tone.
        closed: how it ended.
        refused: the disk refuses at the moment, as the screen tells.
    """

    into: Path
    acknowledged: list[dict[str, Any]] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    seen: list[str] = field(default_factory=list)
    delays_s: list[float] = field(default_factory=list)
    closed: Closed = field(default_factory=lambda: Closed(None, False))
    refused: bool = False

    @property
    def faults(self) -> list[str]:
        """What is wrong with what it left."""
        return faults_of(self.into, self.acknowledged)

    def take(self, message: Message) -> None:
        """Notes a message down."""
        match message:
            case Took():
                self.acknowledged.append(taken(message))
                self.delays_s.append(message.delay_s)
            case Told(signal, text) if signal is not None and "disk" in text:
                self.said.append(f"tone *{signal}*, “{text}”")
            case Noticed(text, serious) if serious and "microphone" not in text:
                self.seen.append(text)
            case StateChanged(state, detail):  # the reason is noticed as well, word for word
                self.refused = state is State.STORAGE_REFUSED
                self.seen += [f"[{state}]"] if self.refused and detail in self.seen else []
            case Closed():
                self.closed = message
            case _:
                pass

    def told(self) -> str:
        """What a person heard and saw, each thing once, for a table."""
        hears = "; ".join(dict.fromkeys(self.said)) or "no more than the tones of what was said"
        sees = "; ".join(dict.fromkeys(self.seen)) or "nothing else"
        fault = f"; at the end: {self.closed.fault} (exit {self.closed.exit_code})"
        return f"hears: {hears}; sees: {sees}{fault if self.closed.fault else ''}"


Watch = Callable[[Lived, int], None]
"""Called after every message, with how many utterances were acknowledged."""


def live(
    into: Path,
    recordings: tuple[Path, ...],
    known: Known,
    *,
    between: Between | None = None,
    watch: Watch = lambda _lived, _took: None,
    resume: str = "",
    speed: float = SPEED,
    stop_when: Callable[[Lived], bool] = lambda _lived: False,
) -> Lived:
    """Inspects to the end of the recordings, or until it is to be stopped.

    Args:
        into: where the log goes.
        recordings: played in place of a microphone.
        known: what the ear heard in them before.
        between: stands between the program and its disk.
        watch: may break and mend the disk.
        resume: a log to go on with.
        speed: of the recordings.
        stop_when: asked after every message.
    """
    settings = Settings(into=into, ear="built-in", voice="none", talk=Talk.TONES, second_ear="off")
    wishes = Wishes(rehearse=True, recordings=recordings, resume=resume, speed=speed, ask=False)
    lived, messages, stopped = Lived(into), Queue[Message](), False
    with ExitStack() as held:
        patch = held.enter_context(pytest.MonkeyPatch.context())
        patch.setattr("voicelog.runtime.live.open_the_ear", lambda *_: RememberingEar(known))
        held.enter_context(between or Between(lambda call: call.go_on(), into))
        engine = launch(settings, wishes)
        engine.start(messages.put)
        over = False
        while not isinstance(message := messages.get(timeout=120), Closed):
            lived.take(message)
            watch(lived, len(lived.acknowledged))
            over = over or isinstance(message, SoundEnded)
            if not stopped and (stop_when(lived) or (over and not lived.refused)):
                stopped = True
                engine.stop()
        lived.take(message)
        engine.join()
    return lived
