"""The second ear in a live inspection: what it is asked, and when its answer is heeded.

The first acknowledgement never waits for it. Its answer is taken in once nobody speaks and nothing
waits, so that it talks over nobody; whoever has gone on meanwhile is not asked any more.
"""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic

from voicelog.domain.opinion import Opinion, Verdict
from voicelog.domain.sound import Clip
from voicelog.runtime.answering import Answering
from voicelog.runtime.event import Event
from voicelog.runtime.messages import HeardAgain, Message, Noticed
from voicelog.runtime.opining import opine
from voicelog.runtime.questions_aloud import question
from voicelog.runtime.second_ear import Answered, Asking, Job
from voicelog.runtime.session import Session


class SecondHearing:
    """Between one inspection and its second ear.

    Args:
        session: the inspection.
        asking: the second ear; None where there is none.
        answering: what answers by sound.
        publish: tells the screen.
    """

    def __init__(
        self,
        session: Session,
        asking: Asking | None,
        answering: Answering,
        publish: Callable[[Message], None],
    ) -> None:
        self._session, self._asking = session, asking
        self._answering, self._publish = answering, publish
        self._ready: Answered | None = None
        self._over = False

    def take(self, event: Event, clip: Clip) -> list[Answered]:
        """An utterance was acknowledged: have it heard again where that can change something.

        Returns:
            What is dropped for it.
        """
        understanding = self._session.understanding
        taken = understanding.taken
        if self._asking is None or taken is None or not event.turn.keep or event.turn.finished:
            return []
        reason = understanding.reason(event.reading, event.findings)
        if not reason:
            return []
        dropped = self._asking.ask(Job(clip, taken, reason, monotonic()))
        return [_dropped(dropped)] if dropped is not None else []

    def look(self, *, quiet: bool) -> list[Answered]:
        """The answer that is to be heeded now, and what will have none where the ear is gone.

        Args:
            quiet: nobody speaks, and nothing waits.
        """
        if self._asking is None:
            return []
        self._ready = self._ready or self._asking.ready()
        answered = self._ready
        if answered is None or not (quiet or self._is_past(answered)):
            return []
        self._ready = None
        if not answered.fault:
            return [answered]
        self._publish(Noticed(answered.fault, serious=True))
        return [answered, *self._end()]

    def rest(self) -> list[Answered]:
        """What has to be written down before the end: the answers there are, and what was not heard;
        nobody is asked about any of it.
        """
        self._over = True
        if self._asking is None:
            return []
        left = self._asking.rest()  # first: from then on no answer is added
        there = [self._ready, *iter(self._asking.ready, None)]
        self._ready = None
        return [*(one for one in there if one is not None), *map(_dropped, left)]

    def heed(self, answered: Answered) -> None:
        """Write it down, show it, and ask about it where it matters and nobody has gone on meanwhile.

        Args:
            answered: as :meth:`look` gave it.

        Raises:
            StorageFault: the disk refuses; nothing was done, and it may be given again.
        """
        session, ask = self._session, not (self._over or self._is_past(answered))
        opined = opine(session, answered.job.taken, answered.opinion, ask=ask)
        inspection = session.inspection()
        self._publish(HeardAgain(opined, inspection))
        if opined.ask is not None:
            about = next((f for f in inspection.live if f.entry.id == opined.ask.about), None)
            self._answering.propose(question(opined.ask, about, session.grammar.zone_map))

    def _is_past(self, answered: Answered) -> bool:
        """Something else was said since."""
        return self._session.understanding.taken is not answered.job.taken

    def _end(self) -> list[Answered]:
        asking, self._asking = self._asking, None
        if asking is None:
            return []
        left = asking.rest()
        asking.close()
        return [*map(_dropped, left)]


def _dropped(job: Job) -> Answered:
    return Answered(job, Opinion(job.reason, Verdict.DROPPED))
