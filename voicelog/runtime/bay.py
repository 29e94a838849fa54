"""The work of a live inspection, turn by turn: what comes in, what is asked for, what is due."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from queue import Empty, SimpleQueue
from time import sleep
from typing import Any

from voicelog.capture.incoming import Incoming, Sound, Source
from voicelog.dialogue.ask import What
from voicelog.domain.signal import Signal
from voicelog.errors import StorageFault, VoicelogError
from voicelog.runtime import states_aloud
from voicelog.runtime.acknowledging import Acknowledging
from voicelog.runtime.actions import words_of
from voicelog.runtime.answering import Answering
from voicelog.runtime.due import Due, Item, Note
from voicelog.runtime.event import Event
from voicelog.runtime.foremost import foremost
from voicelog.runtime.hearing import Uttered
from voicelog.runtime.logs import handed_over
from voicelog.runtime.messages import (
    Action,
    Closed,
    Message,
    Noticed,
    State,
    StateChanged,
)
from voicelog.runtime.questions_aloud import finished
from voicelog.runtime.second_ear import Answered, Asking
from voicelog.runtime.second_hearing import SecondHearing
from voicelog.runtime.session import Session
from voicelog.runtime.sound_in import SoundIn
from voicelog.tongue import worded

TICK_S = 0.05
"""How long a turn waits for sound: keys are answered within it."""

GRACE_S = 1.0
"""An answer that began in time is known as speech only a little later."""

MOST_BLOCKS = 4_000
"""Blocks read at most when it is stopped: more than the microphone's queue holds."""


class Bay:
    """One inspection at work; everything in it happens on one thread.

    Args:
        session: open.
        sound: sorts what comes in.
        source: where sound comes from.
        answering: what answers.
        publish: tells the screen.
        cautions_wait: they wait for *affirm*; else whatever is taken first passes them.
        second: a second ear, which hears what the first was not sure of.
    """

    def __init__(
        self,
        session: Session,
        sound: SoundIn,
        source: Source,
        answering: Answering,
        publish: Callable[[Message], None],
        *,
        cautions_wait: bool = True,
        second: Asking | None = None,
    ) -> None:
        self._session, self._source, self._answering = session, source, answering
        self._sound, self._publish, self._clock = sound, publish, source.now
        self._due = Due(self._write, self._told_of_disk, source.now)
        self._second = SecondHearing(session, second, answering, publish)
        self._acknowledging = Acknowledging(
            session, sound, answering, self._due, publish, source.now, cautions_wait=cautions_wait
        )
        self._state: StateChanged | None = None
        self._ending = False
        self._closed: Closed | None = None

    def work(self, requests: SimpleQueue[Any]) -> Closed:
        """Until it is finished or stopped, or something fails that nobody can wait for."""
        if self._acknowledging.cautions:
            self._answering.cautions(self._session.grammar.rules.cautions)
        try:
            self._turns(requests)
        except VoicelogError as fault:
            self._publish(Noticed(str(fault), serious=True))
            self._stop()
            closed = self._closed or Closed(None, False)
            self._closed = replace(closed, fault=str(fault), exit_code=fault.exit_code)
        except Exception:
            with suppress(Exception):  # what was said is written, whatever the defect is
                self._stop()
            raise
        closed = self._closed or Closed(None, False)
        if closed.finished:
            self._publish(StateChanged(State.FINISHED))
            self._answering.wait()
        return closed

    def _turns(self, requests: SimpleQueue[Any]) -> None:
        while self._closed is None:
            self._take_requests(requests)
            if self._closed is not None:
                return
            incoming = self._read()
            if not self._ending:  # what is said after the end was affirmed belongs to no inspection
                self._due.put(self._sound.take(incoming))
            self._due.work()
            self._look_round()

    def _read(self) -> Incoming | None:
        """What comes in; a turn takes its time even where nothing will come any more."""
        if self._sound.ended:
            sleep(TICK_S)
            return None
        return self._source.read(TICK_S)

    def _take_requests(self, requests: SimpleQueue[Any]) -> None:
        while self._closed is None:
            try:
                request = requests.get_nowait()
            except Empty:
                return
            if request is None:
                self._stop()
            elif not self._ending:
                self._do(request)
                self._due.work()

    def _do(self, request: Action | str) -> None:
        if not isinstance(request, Action):
            self._type(request)
        elif request in (Action.PEDAL_DOWN, Action.PEDAL_UP):
            self._sound.pedal(down=request is Action.PEDAL_DOWN)
        elif request in (Action.TALK_LESS, Action.TALK_MORE):
            self._answering.change_talk(1 if request is Action.TALK_MORE else -1)
        else:
            self._type(words_of(request, self._session.grammar.vocabulary))

    def _type(self, words: str) -> None:
        """Typed words come after what is being said: that is closed first."""
        self._answering.hush()
        self._due.put([*self._sound.cut(), words])

    def _stop(self) -> None:
        """Everything said is written first; what the disk still refuses is told with the end."""
        self._answering.hush()
        if not self._ending:
            self._due.put([*self._rest(), *self._sound.cut()])
            self._write_all()
            self._due.put([*self._second.rest(), Note("stopped", {})])
        self._write_all()
        if self._closed is not None:
            return
        refused = self._due.refused
        lost = (
            worded(
                "{count} things said are not on disk. {refused}",
                count=self._due.waiting,
                refused=refused,
            )
            if refused
            else ""
        )
        self._closed = Closed(
            self._session.inspection(), False, lost, StorageFault.exit_code if lost else 0,
            self._session.folder,
        )  # fmt: skip

    def _write_all(self) -> None:
        """What can be taken, even where something before it cannot."""
        while True:
            try:
                return self._due.work(at_once=True)
            except Exception as fault:  # it was let go, so that this comes to an end
                self._publish(Noticed(str(fault) or repr(fault), serious=True))

    def _rest(self) -> Iterator[Item]:
        """What has come in up to now and was not read yet."""
        until_s = self._clock()
        for _ in range(MOST_BLOCKS):
            incoming = None if self._sound.ended else self._source.read(0.0)
            if incoming is None:
                return
            yield from self._sound.take(incoming)
            if isinstance(incoming, Sound) and incoming.at_s >= until_s:
                return

    def _write(self, item: Item) -> None:
        match item:
            case Note(kind, body):
                self._session.note(kind, body)
                if kind == "closed":
                    self._finish()
            case Answered():
                self._second.heed(item)
            case Uttered():
                began_s, offset_s = self._clock(), item.offset_s + self._acknowledging.base_s
                event = self._once(
                    lambda: self._session.hear(item.clip, offset_s=offset_s, heard=item.heard)
                )
                self._acknowledge(event, item, began_s)
                self._due.put(self._second.take(event, item.clip))
            case str():
                at_s = self._acknowledging.now_s()
                self._acknowledge(self._once(lambda: self._session.read(item, at_s=at_s)))

    def _once(self, take: Callable[[], Event]) -> Event:
        """Taken once, however often the disk refuses to keep it."""
        return self._session.settle() if self._session.is_due else take()

    def _told_of_disk(self, fault: StorageFault | None) -> None:
        if fault is None:
            self._answering.alarm(Signal.LISTENING, states_aloud.disk_takes_again())
        else:
            self._publish(Noticed(str(fault), serious=True))
            self._answering.alarm(Signal.REFUSED, states_aloud.disk_refuses(fault.hint))

    def _acknowledge(self, event: Event, item: Uttered | None = None, began_s: float = 0.0) -> None:
        self._acknowledging.take(event, item, began_s)
        if event.turn.finished:
            self._ending = True
            heard = self._second.rest()
            self._due.put([*self._sound.cut(), *heard, Note("closed", {"reason": "finished"})])

    def _finish(self) -> None:
        inspection = self._session.inspection()
        self._publish(Noticed(handed_over(self._session.folder)))
        self._answering.alarm(Signal.FINISHED, finished(inspection))
        self._closed = Closed(inspection, finished=True, log=self._session.folder)

    def _look_round(self) -> None:
        now_s = self._acknowledging.now_s()
        quiet = not (self._sound.busy or self._due.waiting or self._answering.deafening)
        if self._answering.go_on(quiet=not self._sound.speaking):
            self._session.understanding.asked(now_s)
        elif quiet:
            self._lapse(now_s - GRACE_S)
        self._due.put(self._second.look(quiet=quiet and not self._answering.deafening))
        self._answering.look_again()
        self._sound.look_round()
        state = foremost(
            self._sound, self._answering, self._due, cautions=self._acknowledging.cautions
        )
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
