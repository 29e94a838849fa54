"""A live inspection: one thread that owns microphone, ear, dialogue and journal.

The order is always the same: sound is cut into utterances, an utterance is taken and on disk, only
then does its tone sound, and only then is the screen told. Front ends talk to it through
:class:`~voicelog.runtime.messages.Engine`; every call of theirs returns at once.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from contextlib import ExitStack, closing
from dataclasses import dataclass, field, replace
from pathlib import Path
from queue import SimpleQueue
from typing import Any

from voicelog.announce.announcer import Announcer
from voicelog.capture.incoming import Source
from voicelog.config.cache import checked_grammar
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.signal import Signal
from voicelog.errors import VoicelogError, refusal
from voicelog.recognise.port import Ear
from voicelog.runtime import states_aloud
from voicelog.runtime.actions import resume_phrase, spoken_words
from voicelog.runtime.answering import Answering
from voicelog.runtime.bay import Bay
from voicelog.runtime.going_on import Earlier
from voicelog.runtime.hearing import Hearing
from voicelog.runtime.messages import (
    Action,
    Closed,
    Message,
    Noticed,
    Opened,
    State,
    StateChanged,
)
from voicelog.runtime.opening import open_again, open_live, open_the_ear, second_ear
from voicelog.runtime.second_ear import SecondEarThread
from voicelog.runtime.session import Session
from voicelog.runtime.set_up import SetUpQuestion, phrases_of, rails_matter
from voicelog.runtime.setting_up import Setup, Stopped, Told
from voicelog.runtime.sound_in import SoundIn
from voicelog.runtime.steady_ear import steady
from voicelog.tongue import worded

Tell = Callable[[str], None]
"""Called, from any thread, with a sentence that a person should read."""

Request = Action | str | None
"""An action, typed words, or None to stop."""


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be done.

    Args:
        settings: in force.
        subject: what is inspected; empty when it is asked for, or not known.
        earlier: a log to go on with, instead of a new one; its settings hold then.
        questions: asked before a new log is opened.
        vehicle: what is known of the vehicle, as a ``vehicle`` line sets it.
        rehearsal: recordings cannot affirm the cautions: whatever is heard first passes them.
    """

    settings: Settings
    subject: str = ""
    earlier: Earlier | None = None
    questions: tuple[SetUpQuestion, ...] = ()
    rehearsal: bool = False
    vehicle: Mapping[str, Any] = field(default_factory=dict)


class LiveEngine:
    """Runs an inspection (an :class:`~voicelog.runtime.messages.Engine`).

    Args:
        order: what is to be done.
        source: opens the microphone, or what stands in for it, beside what answers; called on the
            engine's thread.
        announcer: opens what answers by sound; called on the engine's thread.

    Attributes:
        opened: what was told when the log was opened; None before.
    """

    def __init__(
        self,
        order: Order,
        *,
        source: Callable[[Announcer, Tell], Source],
        announcer: Callable[[Tell], Announcer],
    ) -> None:
        self._order = order
        self._open_source, self._open_announcer = source, announcer
        self.opened: Opened | None = None
        self._unasked = False
        self._requests: SimpleQueue[Request] = SimpleQueue()
        self._called_off = threading.Event()
        self._publish: Callable[[Message], None] = lambda _message: None
        self._thread = threading.Thread(target=self._run, name="inspection", daemon=True)

    def start(self, publish: Callable[[Message], None]) -> None:
        """Begin; ``publish`` is called from the engine's own thread, in order."""
        self._publish = publish
        self._thread.start()

    def act(self, action: Action) -> None:
        """What a key, a pedal or the palette asks for."""
        self._requests.put(action)

    def type(self, text: str) -> None:
        """Words typed instead of spoken."""
        if text.strip():
            self._requests.put(text.strip())

    def stop(self, *, unasked: bool = False) -> None:
        """Stop, so that the inspection can be gone on with later.

        Args:
            unasked: whoever inspects did not ask for it, and has to be told aloud.
        """
        self._unasked = self._unasked or unasked
        if self._requests.empty():  # what was typed before it still goes into a log
            self._called_off.set()
        self._requests.put(None)

    def join(self, timeout_s: float | None = None) -> bool:
        """Wait for the end; True when it has come, or nothing was ever started."""
        if self._thread.ident is None:
            return True
        self._thread.join(timeout_s)
        return not self._thread.is_alive()

    def _tell(self, text: str) -> None:
        self._publish(Noticed(text))

    def _run(self) -> None:
        """Whatever ends it, the front end is told, and everything said is on disk before."""
        try:
            with ExitStack() as held:
                self._publish(self._inspect(held))
        except VoicelogError as fault:
            self._publish(Closed(None, False, str(fault), fault.exit_code))
        except OSError as fault:  # a path that the system refuses
            told = refusal(fault)
            self._publish(Closed(None, False, str(told), told.exit_code))
        except BaseException as defect:
            self._publish(
                Closed(None, False, worded("voicelog failed: {error}", error=repr(defect)), 1)
            )
            raise

    def _inspect(self, held: ExitStack) -> Closed:
        try:
            return self._inspected(held)
        except Stopped:
            return Closed(None, False)

    def _unless_called_off(self) -> None:
        """Between steps that take seconds, while there is no log to close in order.

        Raises:
            Stopped: it is not wanted any more.
        """
        if self._called_off.is_set():
            raise Stopped

    def _inspected(self, held: ExitStack) -> Closed:
        self._publish(StateChanged(State.STARTING, worded("loading the ear")))
        order = self._order
        grammar = order.earlier.grammar if order.earlier else checked_grammar(order.settings)
        ear = open_the_ear(order.settings, grammar)
        held.callback(ear.close)
        self._unless_called_off()
        announcer = self._open_announcer(self._tell)
        held.callback(announcer.close)
        self._unless_called_off()
        source = self._open_source(announcer, self._tell)
        held.callback(source.close)
        answering = Answering(announcer, order.settings, grammar, self._publish)
        ear = steady(ear, answering, self._publish)
        hearing = Hearing(ear, order.settings, clock=source.now)
        sound = SoundIn(
            hearing, answering, self._publish, source.now,
            hands_free=order.settings.push_to_talk == "off",
        )  # fmt: skip
        setup = Setup(
            source, sound, ear, answering, self._requests, self._publish,
            lambda settings: rails_matter(checked_grammar(settings).zone_map),
        )  # fmt: skip
        settings, subject, vehicle = _set_up(order, setup, grammar, hearing)
        if settings.map != order.settings.map:
            grammar = checked_grammar(settings)
            ear = steady(_opened_anew(ear, settings, grammar, held), answering, self._publish)
            hearing.use(ear)
            answering.speak_of(grammar)
        self._unless_called_off()
        session = held.enter_context(
            open_again(order.earlier, ear, vehicle=vehicle)
            if order.earlier
            else open_live(settings, ear, subject=subject, vehicle=vehicle)
        )
        session.understanding.warm()
        resumed = order.earlier is not None
        self.opened = _opened(session, settings, subject, source, ear, resumed=resumed)
        self._publish(self.opened)
        for text in session.told_of_log:
            self._publish(Noticed(text, serious=True))
        other = second_ear(settings, session.grammar, behind=True)
        second = None if other is None else SecondEarThread(other)
        if second is not None:
            held.callback(second.close)
        bay = Bay(
            session, sound, source, answering, self._publish,
            cautions_wait=not order.rehearsal, second=second,
        )  # fmt: skip
        return self._worked(bay, answering)

    def _worked(self, bay: Bay, answering: Answering) -> Closed:
        """To its end; who did not ask for the end hears of it, once all is on disk."""
        closed: Closed | None = None
        try:
            closed = bay.work(self._requests)
        finally:
            if closed is None or (not closed.finished and (closed.fault or self._unasked)):
                answering.alarm(Signal.MICROPHONE_LOST, states_aloud.stopped())
                answering.wait()
        return closed


def _set_up(order: Order, setup: Setup, grammar: Grammar, hearing: Hearing) -> Told:
    """What was asked and answered. What has a few answers is heard by an ear of its own that leans
    towards these alone: what an inspection is about would be heard instead of "unibody" or "boxed".
    """
    free = tuple(question for question in order.questions if not question.options)
    told = setup.ask(free, order.settings, order.subject, order.vehicle)
    rest = tuple(question for question in order.questions if question.options)
    if not rest:
        return told
    with closing(open_the_ear(order.settings, grammar, phrases_of(rest))) as ear:
        hearing.use(ear)
        told = replace(setup, ear=ear).ask(rest, *told)
        hearing.use(setup.ear)
    return told


def _opened_anew(ear: Ear, settings: Settings, grammar: Grammar, held: ExitStack) -> Ear:
    """An ear that listens for the places of another map; the old one goes first, for memory."""
    ear.close()
    another = open_the_ear(settings, grammar)
    held.callback(another.close)
    return another


def _opened(
    session: Session, settings: Settings, subject: str, source: Source, ear: Ear, *, resumed: bool
) -> Opened:
    grammar = session.grammar
    return Opened(
        log=session.folder or Path(),
        subject=subject,
        ear=f"{ear.engine} ({ear.model})" if ear.model else ear.engine,
        device=source.device,
        cautions=grammar.rules.cautions,
        inspection=session.inspection(),
        zone_map=grammar.zone_map,
        rails=settings.rails,
        resume=resume_phrase(grammar.vocabulary),
        resumed=resumed,
        rules={rule.id: rule.text for rule in grammar.rules.rules},
        spoken=spoken_words(grammar.vocabulary),
    )
