"""The work of a live inspection, turn by turn: what comes in, what is asked for, what is due."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from queue import Empty, SimpleQueue
from time import sleep
from typing import Any

from voicelog.capture.incoming import Incoming, Source
from voicelog.config.settings import Settings
from voicelog.dialogue.ask import What
from voicelog.domain.reading import Act
from voicelog.domain.signal import Signal
from voicelog.errors import StorageFault, VoicelogError
from voicelog.runtime import states_aloud
from voicelog.runtime.actions import words_of
from voicelog.runtime.answering import Answering
from voicelog.runtime.due import Due, Item, Note
from voicelog.runtime.event import Event
from voicelog.runtime.hearing import Hearing, Uttered
from voicelog.runtime.logs import DOCUMENT, export_json
from voicelog.runtime.messages import (
    Action,
    Closed,
    Message,
    Noticed,
    State,
    StateChanged,
    Took,
)
from voicelog.runtime.questions_aloud import finished
from voicelog.runtime.session import Session
from voicelog.runtime.sound_in import SoundIn

TICK_S = 0.05
"""How long a turn waits for sound: keys are answered within it."""


class Bay:
    """One inspection at work; everything in it happens on one thread.

    Args:
        session: open.
        hearing: cuts sound into utterances.
        source: where sound comes from.
        answering: what answers.
        settings: in force.
        publish: tells the screen.
    """

    def __init__(
        self,
        session: Session,
        hearing: Hearing,
        source: Source,
        answering: Answering,
        settings: Settings,
        publish: Callable[[Message], None],
    ) -> None:
        self._session, self._source, self._answering = session, source, answering
        self._publish, self._clock = publish, source.now
        hands_free = settings.push_to_talk == "off"
        self._sound = SoundIn(hearing, answering, publish, source.now, hands_free=hands_free)
        self._due = Due(self._write, self._told_of_disk, source.now)
        self._base_s = session.now_s() - source.now()
        self._cautions = bool(session.grammar.rules.cautions)
        self._state: StateChanged | None = None
        self._closed: Closed | None = None

    def work(self, requests: SimpleQueue[Any]) -> Closed:
        """Until it is finished or stopped."""
        if self._cautions:
            self._answering.cautions(self._session.grammar.rules.cautions)
        while self._closed is None:
            self._take_requests(requests)
            self._due.put(self._sound.take(self._read()))
            self._due.work()
            self._look_round()
        self._publish(StateChanged(State.FINISHED))
        self._answering.wait()
        return self._closed

    def _read(self) -> Incoming | None:
        """What comes in; a turn takes its time even where nothing will come any more."""
        if self._sound.ended:
            sleep(TICK_S)
            return None
        return self._source.read(TICK_S)

    def _take_requests(self, requests: SimpleQueue[Any]) -> None:
        while self._closed is None:
            try:
                self._do(requests.get_nowait())
            except Empty:
                return

    def _do(self, request: Action | str | None) -> None:
        match request:
            case None:
                self._stop()
            case Action.PEDAL_DOWN | Action.PEDAL_UP:
                self._due.put(self._sound.pedal(down=request is Action.PEDAL_DOWN))
            case Action.TALK_LESS | Action.TALK_MORE:
                self._answering.change_talk(1 if request is Action.TALK_MORE else -1)
            case Action():
                self._type(words_of(request, self._session.grammar.vocabulary))
            case str():
                self._type(request)

    def _type(self, words: str) -> None:
        self._answering.hush()
        self._due.put([words])

    def _stop(self) -> None:
        """Everything said is written first; what the disk still refuses is told with the end."""
        self._due.put([*self._sound.cut(), Note("stopped", {})])
        self._due.work(at_once=True)
        refused = self._due.refused
        lost = f"{self._due.waiting} things said are not on disk. {refused}" if refused else ""
        self._closed = Closed(
            self._session.inspection(), False, lost, StorageFault.exit_code if lost else 0,
            self._session.folder,
        )  # fmt: skip

    def _write(self, item: Item) -> None:
        match item:
            case Note(kind, body):
                self._session.note(kind, body)
                if kind == "closed":
                    self._finish()
            case Uttered():
                began_s, offset_s = self._clock(), item.offset_s + self._base_s
                event = self._once(
                    lambda: self._session.hear(item.clip, offset_s=offset_s, heard=item.heard)
                )
                self._acknowledge(event, item, began_s)
            case str():
                at_s = self._base_s + self._clock()
                self._acknowledge(self._once(lambda: self._session.read(item, at_s=at_s)))

    def _once(self, take: Callable[[], Event]) -> Event:
        """Taken once, however often the disk refuses to keep it."""
        return self._session.settle() if self._session.is_due else take()

    def _told_of_disk(self, fault: StorageFault | None) -> None:
        if fault is None:
            self._answering.alarm(Signal.LISTENING, states_aloud.disk_takes_again())
        else:
            self._publish(Noticed(str(fault), serious=True))
            self._answering.alarm(Signal.REFUSED, states_aloud.disk_refuses())

    def _acknowledge(self, event: Event, item: Uttered | None = None, began_s: float = 0.0) -> None:
        """The tone first; what takes longer comes after it."""
        self._sound.private = event.turn.standing_by
        affirms = self._cautions and event.turn.act is Act.AFFIRM
        if affirms:  # it answers what the dialogue does not know of
            event = replace(event, turn=replace(event.turn, refused=""))
        wait_s = self._affirm_cautions() if affirms else self._answering.tone(event)
        tone_s, inspection = self._clock() + wait_s, self._session.inspection()
        if not affirms:
            self._answering.words(event, inspection, self._session.understanding.question)
        parts = _parts(event, item, began_s, tone_s) if item is not None else {}
        delay_s = max(0.0, tone_s - item.ended_s) if item is not None else 0.0
        self._publish(Took(event, inspection, event.turn.place, delay_s, parts))
        if event.turn.finished:
            self._due.put([Note("closed", {"reason": "finished"})])

    def _affirm_cautions(self) -> float:
        self._cautions = False
        self._due.put([Note("cautions", {"affirmed": True})])
        return self._answering.alarm(Signal.LISTENING, states_aloud.listening())

    def _finish(self) -> None:
        inspection = self._session.inspection()
        self._publish(Noticed(_handed_over(self._session.folder)))
        self._answering.tell(finished(inspection))
        self._closed = Closed(inspection, finished=True, log=self._session.folder)

    def _look_round(self) -> None:
        now_s = self._base_s + self._clock()
        quiet = not self._sound.speaking
        if self._answering.go_on(quiet=quiet):
            self._session.understanding.asked(now_s)
        elif quiet and not self._answering.deafening:
            self._lapse(now_s)
        self._sound.look_round()
        state = self._now()
        if state != self._state and self._closed is None:
            self._state = state
            self._publish(state)

    def _lapse(self, now_s: float) -> None:
        """Tell that nobody has answered in time."""
        lapsed = self._session.understanding.lapse(now_s)
        if lapsed is not None:
            goes_on = lapsed.what is What.FINISH
            signal = Signal.LISTENING if goes_on else Signal.DOUBTFUL
            self._answering.alarm(signal, states_aloud.lapsed(lapsed))

    def _now(self) -> StateChanged:
        """The one thing that a person should know first."""
        if self._due.refused:
            return StateChanged(State.STORAGE_REFUSED, self._due.refused)
        if self._sound.away:
            return StateChanged(State.NO_MICROPHONE, self._sound.away)
        flags = (
            (State.TALKING, self._answering.deafening),
            (State.STANDING_BY, self._sound.private),
            (State.READING, self._sound.reading),
            (State.HEARING, self._sound.speaking),
            (State.HELD, not self._sound.listens),
            (State.CAUTIONS, self._cautions),
            (State.TOO_LOUD, self._sound.too_loud),
        )
        state = next((state for state, holds in flags if holds), State.LISTENING)
        return StateChanged(state, "the recordings are over" if self._sound.ended else "")


def _handed_over(log: Path | None) -> str:
    """The document for other programs, beside the log; the log is whole without it."""
    if log is None:
        return "Nothing was kept"
    try:
        return f"Exported to {export_json(log, log / DOCUMENT)}"
    except VoicelogError as fault:
        return f"Not exported: {fault}"


def _parts(event: Event, item: Uttered, began_s: float, tone_s: float) -> Mapping[str, float]:
    """Where the time went, in seconds; the ear's work before the decision made nobody wait."""
    timing = event.timing
    after_s = timing.decode_s + timing.read_s + timing.write_s
    return {
        "end-pointing": item.ended_s - item.offset_s - item.clip.speech_end_s,
        "ear, before the decision": item.decode_s,
        "queue": began_s - item.ended_s,
        "ear": timing.decode_s,
        "reading": timing.read_s,
        "disk": timing.write_s,
        "tone": tone_s - began_s - after_s,
    }
