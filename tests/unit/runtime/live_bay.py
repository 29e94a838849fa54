"""A bay without a sound card: sound whose bytes are the words, a voice that only notes them down."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from queue import SimpleQueue
from time import monotonic
from typing import Any

from voicelog.capture.incoming import Ended, Incoming, Sound
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.fact import Fact
from voicelog.domain.heard import Heard
from voicelog.domain.signal import Signal
from voicelog.domain.sound import Clip
from voicelog.errors import StorageFault, VoicelogError
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.answering import Answering
from voicelog.runtime.bay import Bay
from voicelog.runtime.hearing import Uttered
from voicelog.runtime.messages import Action, Closed, Message, StateChanged, Told, Took
from voicelog.runtime.second_ear import Asking
from voicelog.runtime.session import Session
from voicelog.runtime.sound_in import SoundIn

SPEAKS = b"..."
"""Sound of somebody who has not ended yet."""


@dataclass
class Ears:
    """Takes sound for the words in its bytes."""

    now: Callable[[], float]
    speaking: bool = False
    is_open: bool = False
    reading: bool = False
    noise_dbfs: float = -60.0
    so_far: str = ""
    held: list[bytes] = field(default_factory=list)
    cuts: int = 0

    def take(self, sound: Sound, *, early: bool = True) -> list[Uttered]:
        """An utterance at once, unless somebody goes on speaking."""
        self.speaking = self.is_open = sound.pcm == SPEAKS
        if self.speaking:
            return []
        clip = Clip(bytes(3200), max(0.0, sound.at_s - 1.0), sound.at_s)
        return [Uttered(clip, 0.0, sound.at_s, Heard.typed(sound.pcm.decode()))]

    def hold(self, sound: Sound) -> None:
        """Sound that is not heard."""
        self.held.append(sound.pcm)

    def cut(self) -> list[Uttered]:
        """Who has not ended is taken at their word so far, where a test gives them one."""
        self.cuts += 1
        said, self.so_far = self.so_far if self.speaking else "", ""
        self.speaking = self.is_open = False
        if not said:
            return []
        clip = Clip(bytes(3200), self.now() - 1.0, self.now())
        return [Uttered(clip, 0.0, self.now(), Heard.typed(said))]

    def partial(self) -> str:
        """What somebody says so far."""
        return "so far" if self.speaking else ""


@dataclass
class Voice:
    """Notes down what it plays and says; talks for as long as a test wants."""

    watch: Callable[[Signal], None] = lambda _signal: None
    signals: list[Signal] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    talking: bool = False
    slow: bool = False
    audible: bool = True
    hushed: int = 0

    def signal(self, signal: Signal) -> float:
        """A tone."""
        self.watch(signal)
        self.signals.append(signal)
        return 0.0

    def say(self, text: str, *, urgent: bool = False) -> None:
        """Words; a slow voice talks until somebody makes it stop."""
        self.said.append(text)
        self.talking = self.slow

    def hush(self) -> None:
        """Silence."""
        self.hushed += 1
        self.talking = False

    @property
    def aloud(self) -> bool:
        """Whatever it says can be heard at once."""
        return self.talking

    @property
    def talked_until_s(self) -> float:
        """Long ago, unless it talks."""
        return monotonic() if self.talking else float("-inf")

    def look_again(self) -> None:
        """There is nothing to look for."""

    def wait(self, timeout_s: float) -> bool:
        """It is never long."""
        return True


@dataclass
class Disk:
    """A disk that is full for as long as a test wants, for some or all kinds of lines."""

    full: bool = False
    for_lines: Callable[[str, Mapping[str, Any]], bool] = lambda _type, _body: True
    fault: VoicelogError = field(
        default_factory=lambda: StorageFault(
            "The journal could not be written (full)", "Free some space"
        )
    )

    def fill(self) -> None:
        """No more room."""
        self.full = True

    def clear(self) -> None:
        """Room again."""
        self.full = False

    def under(self, session: Session, _ears: Ears, _voice: Voice) -> None:
        """Have a session write to this disk."""
        assert session.journal is not None
        append = session.journal.append

        def written(type: str, body: Mapping[str, Any]) -> Fact:  # noqa: A002
            if self.full and self.for_lines(type, body):
                raise self.fault
            return append(type, body)

        session.journal.append = written  # type: ignore[method-assign]


class Script:
    """What comes in and what is asked for, in order; its time is its own.

    Args:
        steps: sound as text, things that come in, actions, seconds to let pass, or calls.
        requests: where actions and typed words go (typed words begin with ``>``).
    """

    device = "a script"

    def __init__(self, steps: list[Any], requests: SimpleQueue[Any]) -> None:
        self._steps, self._requests = deque(steps), requests
        self._now_s = 1000.0

    def now(self) -> float:
        """Seconds of the script."""
        return self._now_s

    def read(self, timeout_s: float) -> Incoming | None:
        """The next step; every turn takes its time."""
        self._now_s += timeout_s
        if not self._steps:
            self._requests.put(None)
            return None
        return self._play(self._steps.popleft())

    def close(self) -> None:
        """Nothing to let go."""

    def _play(self, step: Any) -> Incoming | None:
        match step:
            case Action() | None:
                self._requests.put(step)
            case str() if step.startswith(">"):
                self._requests.put(step[1:])
            case str() | bytes():
                self._now_s += 1.0
                pcm = step.encode() if isinstance(step, str) else step
                return Sound(pcm, self._now_s)
            case int() | float():
                self._now_s += step
            case Ended():
                self._ask_for_the_rest()
                return step
            case _ if callable(step):
                step()
            case _:
                return step  # type: ignore[no-any-return]
        return None

    def _ask_for_the_rest(self) -> None:
        """Nobody reads sound that has ended: what is asked for after it comes at once."""
        while self._steps and not isinstance(self._steps[0], Ended):
            self._play(self._steps.popleft())


@dataclass
class Played:
    """What an inspection showed."""

    closed: Closed
    messages: list[Message]
    voice: Voice
    ears: Ears
    log: Path

    def took(self) -> list[Took]:
        """Utterances taken, in order."""
        return [m for m in self.messages if isinstance(m, Took)]

    def told(self) -> list[str]:
        """Sentences answered, in order."""
        return [m.text for m in self.messages if isinstance(m, Told)]

    def states(self) -> list[str]:
        """States shown, in order."""
        return [str(m.state) for m in self.messages if isinstance(m, StateChanged)]

    def facts(self) -> tuple[Fact, ...]:
        """What the log holds."""
        return read_log(self.log).facts

    def entries(self) -> list[tuple[str, ...]]:
        """Zone, side and condition of what stands at the end."""
        assert self.closed.inspection is not None
        names = ("zone", "side", "condition")
        return [
            tuple(str(f.entry.slots.get(name, "")) for name in names)
            for f in self.closed.inspection.live
        ]


def play(
    grammar: Grammar,
    folder: Path,
    steps: list[Any],
    settings: Settings | None = None,
    *,
    affirmed: bool = True,
    voice: Voice | None = None,
    change: Callable[[Session, Ears, Voice], None] = lambda _session, _ears, _voice: None,
    second: Asking | None = None,
) -> Played:
    """An inspection from its first word to its end.

    Args:
        grammar: in force.
        folder: where the log goes.
        steps: as for :class:`Script`.
        settings: in force.
        affirmed: the cautions are affirmed before the first step.
        voice: what answers.
        change: called before the first turn.
        second: a second ear.
    """
    settings = settings or Settings()
    requests: SimpleQueue[Any] = SimpleQueue()
    messages: list[Message] = []
    if affirmed:
        requests.put(Action.AFFIRM)
    source, voice = Script(steps, requests), voice or Voice()
    opened = {"map": "ladder-frame", "rails": "mixed", "ear": "typed", "settings": {}}
    journal = Journal.create(folder, opened=opened, grammar=grammar.files)
    with Session(settings, grammar, journal=journal, ear=TypedEar(), ask_s=8.0) as session:
        ears = Ears(source.now)
        answering = Answering(voice, settings, grammar, messages.append)  # type: ignore[arg-type]
        change(session, ears, voice)
        sound = SoundIn(
            ears, answering, messages.append, source.now,  # type: ignore[arg-type]
            hands_free=settings.push_to_talk == "off",
        )  # fmt: skip
        bay = Bay(session, sound, source, answering, messages.append, second=second)
        closed = bay.work(requests)
    return Played(closed, messages, voice, ears, journal.folder)
