"""What a person hears and sees of an utterance that was taken: its tone first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from voicelog.domain.signal import Signal
from voicelog.runtime import states_aloud
from voicelog.runtime.answering import Answering
from voicelog.runtime.due import Due, Note
from voicelog.runtime.event import Event, only_affirms
from voicelog.runtime.hearing import Uttered
from voicelog.runtime.messages import Message, Noticed, Took
from voicelog.runtime.session import Session
from voicelog.runtime.sound_in import SoundIn
from voicelog.runtime.waiting_time import where_it_went

SLOW_S = 2.0
"""A disk that needs longer for one utterance makes a person wait for the tone, and is told."""


class Acknowledging:
    """Answers every utterance of one inspection, the cautions at its beginning included.

    Args:
        session: open.
        sound: is told whether what is said is private now.
        answering: what answers.
        due: gets the line that says that the cautions were affirmed.
        publish: tells the screen.
        clock: seconds, of the sound.
        cautions_wait: they wait for *affirm*; else whatever is taken first passes them.

    Attributes:
        cautions: they are still open.
        base_s: the inspection's seconds when the sound began.
    """

    def __init__(
        self,
        session: Session,
        sound: SoundIn,
        answering: Answering,
        due: Due,
        publish: Callable[[Message], None],
        clock: Callable[[], float],
        *,
        cautions_wait: bool,
    ) -> None:
        self._session, self._sound, self._answering = session, sound, answering
        self._due, self._publish, self._clock = due, publish, clock
        self.cautions, self._cautions_wait = bool(session.grammar.rules.cautions), cautions_wait
        self.base_s = session.now_s() - clock()
        self._slow = False

    def now_s(self) -> float:
        """Seconds of the inspection."""
        return self.base_s + self._clock()

    def take(self, event: Event, item: Uttered | None, began_s: float) -> None:
        """The tone first; what takes longer comes after it.

        Args:
            event: what came of the utterance.
            item: its sound; None where it was typed.
            began_s: when the work on it began, by the clock.
        """
        self._sound.private = event.turn.standing_by
        affirms = self.cautions and only_affirms(event)
        if affirms:  # it answers what the dialogue does not know of
            event = replace(event, turn=replace(event.turn, refused=""))
        wait_s = self._affirm_cautions() if affirms else self._answering.tone(event)
        tone_s, inspection = self._clock() + wait_s, self._session.inspection()
        self.cautions = self.cautions and self._cautions_wait
        parts = where_it_went(event, item, began_s, tone_s) if item is not None else {}
        delay_s = max(0.0, tone_s - item.ended_s) if item is not None else 0.0
        self._publish(Took(event, inspection, event.turn.place, delay_s, parts))
        if not affirms:  # after what they answer, for whoever reads along line by line
            self._answering.words(event, inspection, self._session.understanding.question)
        self._tell_of_slow(event.timing.write_s)
        if event.turn.asked is not None:
            self._session.understanding.asked(self.now_s())

    def _tell_of_slow(self, write_s: float) -> None:
        """Once, until it is quick again: whoever waits for a tone does not know what for."""
        if write_s > SLOW_S and not self._slow:
            self._publish(Noticed(states_aloud.disk_slow(write_s), serious=True))
            self._answering.alarm(Signal.DOUBTFUL, states_aloud.disk_slow(write_s))
        self._slow = write_s > SLOW_S

    def _affirm_cautions(self) -> float:
        self.cautions = False
        self._due.put_next(Note("cautions", {"affirmed": True}))
        return self._answering.alarm(Signal.LISTENING, states_aloud.listening())
