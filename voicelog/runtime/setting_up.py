"""Asking, before a log is opened, what no flag has said; by voice or keyboard."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from queue import Empty, SimpleQueue
from typing import Any

from voicelog.capture.incoming import Source
from voicelog.config.settings import Settings
from voicelog.recognise.port import Ear, hear_clip
from voicelog.runtime.answering import Answering
from voicelog.runtime.hearing import Uttered
from voicelog.runtime.messages import Action, Message, State, StateChanged
from voicelog.runtime.set_up import SetUpQuestion, answer_to, leaves_open, settled
from voicelog.runtime.sound_in import SoundIn
from voicelog.tongue import to_word, worded

TICK_S = 0.05
TRIES = 3
"""Answers that name no option before the question is left open: it can be settled by a flag."""

ASKED_AGAIN = to_word("Not understood. {question} Or skip.")
"""A question after an answer that names no option."""


Told = tuple[Settings, str, Mapping[str, Any]]
"""The settings, the subject and the vehicle, as far as they are known."""


class Stopped(Exception):
    """Somebody stopped before the log was opened; nothing was said that could be lost."""


@dataclass(frozen=True, slots=True)
class Setup:
    """Asks one question after the other.

    Args:
        source: where spoken answers come from.
        sound: sorts what comes in; the inspection goes on with it.
        ear: what makes words of them.
        answering: asks.
        requests: typed answers, and the wish to stop.
        publish: tells the screen.
        rails_matter: whether the map of these settings has places that hide a cavity only where
            the rails are boxed; how they are made is not asked where it makes no difference.
    """

    source: Source
    sound: SoundIn
    ear: Ear
    answering: Answering
    requests: SimpleQueue[Any]
    publish: Callable[[Message], None]
    rails_matter: Callable[[Settings], bool] = lambda _: True

    def ask(
        self,
        questions: tuple[SetUpQuestion, ...],
        settings: Settings,
        subject: str,
        vehicle: Mapping[str, Any],
    ) -> Told:
        """The settings, the subject and the vehicle once everything was answered or left open.

        Nothing of this is kept but the answers: no log is open yet.

        Raises:
            Stopped: it was stopped.
        """
        for question in questions:
            if question.setting == "rails" and not self.rails_matter(settings):
                continue
            answer = self._answer(question)
            if question.setting == "subject":
                subject = answer or subject
            elif answer and question.setting == "stood":
                vehicle = {**vehicle, "stood": answer}
            elif answer:
                settings = settled(settings, question.setting, answer)
        return settings, subject, vehicle

    def _answer(self, question: SetUpQuestion) -> str | None:
        for attempt in range(TRIES):
            self.publish(StateChanged(State.SET_UP, question.text))
            again = worded(ASKED_AGAIN, question=question.text)
            self.answering.ask(again if attempt else question.text)
            text = self._words()
            if text is None or leaves_open(text):
                return None
            answer = answer_to(question, text)
            if answer is not None:
                return answer
        return None

    def _words(self) -> str | None:
        """The next words, spoken or typed; None when there is no more sound to wait for."""
        while True:
            typed = self._typed()
            if typed is not None:
                return typed
            if self.sound.ended:
                return None
            for item in self.sound.take(self.source.read(TICK_S)):
                if isinstance(item, Uttered):
                    heard = item.heard or hear_clip(self.ear, item.clip)
                    if heard.text:
                        return heard.text
            self.answering.go_on(quiet=not self.sound.speaking)

    def _typed(self) -> str | None:
        try:
            request = self.requests.get_nowait()
        except Empty:
            return None
        if request is None:
            raise Stopped
        if not isinstance(request, Action):
            return str(request)
        if request in (Action.PEDAL_DOWN, Action.PEDAL_UP):
            self.sound.pedal(down=request is Action.PEDAL_DOWN)
        return "negative" if request is Action.NEGATIVE else None
