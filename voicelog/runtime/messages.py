"""What a running inspection tells the screen: plain messages, one type each.

The engine's worker publishes them in order; a front end shows them and sends :class:`Action` back.
:class:`Level` and :class:`Partial` may be dropped by a slow screen, the others may not.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import Protocol

from voicelog.domain.entry import Inspection
from voicelog.domain.signal import Signal, Talk
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails, ZoneMap
from voicelog.runtime.event import Event
from voicelog.runtime.opining import Opined


class State(StrEnum):
    """What the tool is doing; exactly one at a time."""

    SET_UP = "set-up"
    """What is inspected, and how it is built, is asked before the log is opened."""
    STARTING = "starting"
    """The ear is being loaded."""
    CAUTIONS = "cautions"
    """The cautions were read out and wait for *affirm*."""
    LISTENING = "listening"
    """Quiet, and ready to hear."""
    HEARING = "hearing"
    """Somebody is speaking."""
    READING = "reading"
    """An utterance seems to have ended and is being made sense of."""
    TALKING = "talking"
    """The tool itself speaks, and does not listen."""
    STANDING_BY = "standing-by"
    """Nothing is kept until the resume phrase."""
    HELD = "held"
    """Push to talk: the pedal is up."""
    TOO_LOUD = "too-loud"
    """The noise is too loud to hear words in."""
    NO_MICROPHONE = "no-microphone"
    """No sound comes in."""
    STORAGE_REFUSED = "storage-refused"
    """The disk refuses to take what was said; it is tried again."""
    FINISHED = "finished"
    """The inspection is closed."""


class Action(StrEnum):
    """What a key, a pedal or the palette asks for; each has spoken words that do the same, but for
    those of the pedal, talk and typed text.
    """

    AFFIRM = "affirm"
    NEGATIVE = "negative"
    SAY_AGAIN = "say-again"
    READ_BACK = "read-back"
    WHAT_IS_OPEN = "what-is-open"
    DISREGARD = "disregard"
    STAND_BY = "stand-by"
    GO_AHEAD = "go-ahead"
    PHOTO = "photo"
    FINISH = "finish"
    PEDAL_DOWN = "pedal-down"
    PEDAL_UP = "pedal-up"
    TALK_LESS = "talk-less"
    TALK_MORE = "talk-more"


@dataclass(frozen=True, slots=True)
class Opened:
    """The inspection is open.

    Args:
        log: its folder.
        subject: what is inspected.
        ear: the recogniser, with its model.
        device: the microphone, or what stands in for it.
        cautions: to be read before anything is touched.
        inspection: as it stands, not empty when a log is gone on with.
        zone_map: the places of the vehicle.
        rails: how its rails are made.
        resume: what ends standing by, as it is said.
        resumed: an earlier log is gone on with.
        rules: id of each rule in force to its sentence.
        spoken: the words of the grammar in force that ask for an action.
    """

    log: Path
    subject: str
    ear: str
    device: str
    cautions: tuple[str, ...]
    inspection: Inspection
    zone_map: ZoneMap
    rails: Rails
    resume: str
    resumed: bool = False
    rules: Mapping[str, str] = field(default_factory=dict)
    spoken: Mapping[Action, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class StateChanged:
    """What the tool is doing now; ``detail`` says why, or what to do about it, in a sentence."""

    state: State
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Level:
    """How loud it is, about ten times a second, in dB below full scale.

    Args:
        level_dbfs: of the last tenth of a second.
        noise_dbfs: the floor between utterances.
        clipped: the sound went past what the microphone can give.
    """

    level_dbfs: float
    noise_dbfs: float
    clipped: bool = False


@dataclass(frozen=True, slots=True)
class Partial:
    """What the open utterance sounds like so far."""

    text: str


@dataclass(frozen=True, slots=True)
class Took:
    """An utterance was taken, is on disk, and was acknowledged.

    Args:
        event: what it did.
        inspection: everything as it stands now.
        place: where the inspector is now; empty when not known.
        delay_s: from the end-pointer's decision to the tone; 0 for typed words.
        parts: what that time, and the time before it, was spent on: name to seconds.
    """

    event: Event
    inspection: Inspection
    place: Slots
    delay_s: float = 0.0
    parts: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class HeardAgain:
    """A second ear has heard an utterance that was taken before.

    Args:
        opined: what it heard, and what became of it.
        inspection: everything as it stands now.
    """

    opined: Opined
    inspection: Inspection


@dataclass(frozen=True, slots=True)
class Told:
    """What was answered.

    Args:
        signal: the tone; None when it was words only.
        text: the sentence, whether or not it is spoken aloud; may be empty.
        question: an answer is waited for; from when on, :class:`AnswerAwaited` tells.
        for_s: how long it will be waited for.
        options: one of these answers it; empty where *affirm* or *negative* does, or any words do.
    """

    signal: Signal | None
    text: str = ""
    question: bool = False
    for_s: float = 0.0
    options: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AnswerAwaited:
    """The open question was said to its end: from now on its answer is waited for so long."""

    for_s: float


@dataclass(frozen=True, slots=True)
class Noticed:
    """Something about the machine that a person should know: sound lost, disk full, device gone."""

    text: str
    serious: bool = False


@dataclass(frozen=True, slots=True)
class SoundEnded:
    """The recordings that stood in for a microphone are over; keys and typed words still work."""


@dataclass(frozen=True, slots=True)
class TalkChanged:
    """How much is said aloud from now on."""

    talk: Talk


@dataclass(frozen=True, slots=True)
class Closed:
    """The inspection has ended, or stopped to be gone on with later.

    Args:
        inspection: as it was left; None when it was never opened.
        finished: it was finished; else it can be gone on with.
        fault: what ended it, in a sentence; empty when a person did.
        exit_code: what the program should leave with.
        log: its folder; None when it was never opened.
    """

    inspection: Inspection | None
    finished: bool
    fault: str = ""
    exit_code: int = 0
    log: Path | None = None


Message = (
    Opened
    | StateChanged
    | Level
    | Partial
    | Took
    | HeardAgain
    | Told
    | AnswerAwaited
    | Noticed
    | SoundEnded
    | TalkChanged
    | Closed
)


class Engine(Protocol):
    """A running inspection, as a front end sees it. Every call returns at once."""

    def start(self, publish: Callable[[Message], None]) -> None:
        """Begin; ``publish`` is called from the engine's own thread, in order."""

    def act(self, action: Action) -> None:
        """What a key, a pedal or the palette asks for."""

    def type(self, text: str) -> None:
        """Words typed instead of spoken; they are taken like spoken ones."""

    def stop(self) -> None:
        """Stop, so that the inspection can be gone on with later; :class:`Closed` follows."""
