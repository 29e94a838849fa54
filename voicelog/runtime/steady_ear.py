"""An ear that may fail in mid-inspection: a person is told, by tone, words and screen."""

from __future__ import annotations

from collections.abc import Callable

from voicelog.domain.inert import inert
from voicelog.domain.signal import Signal
from voicelog.recognise.port import Ear
from voicelog.recognise.unfailing import Unfailing
from voicelog.runtime import states_aloud
from voicelog.runtime.answering import Answering
from voicelog.runtime.messages import Message, Noticed
from voicelog.tongue import to_word, worded

TOLD = to_word(
    "The ear failed; what was said is kept as sound. Stop and start again with --resume;"
    " voicelog relisten hears what was missed ({failure})"
)


def steady(ear: Ear, answering: Answering, publish: Callable[[Message], None]) -> Ear:
    """The same ear; its failures are told, and cost no more than the words of an utterance."""

    def told(failure: Exception) -> None:
        publish(Noticed(worded(TOLD, failure=inert(repr(failure), 80)), serious=True))
        answering.alarm(Signal.REFUSED, states_aloud.ear_failed())

    return Unfailing(ear, told)
