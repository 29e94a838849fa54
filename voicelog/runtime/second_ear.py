"""A second ear that works while the inspection goes on: on a thread of its own, one utterance at a
time, and at most one waiting.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass
from queue import Empty, SimpleQueue
from time import monotonic
from typing import Protocol

from voicelog.domain.heard import Heard
from voicelog.domain.opinion import Opinion, Verdict
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault
from voicelog.runtime.second_opinion import UNSAFE
from voicelog.runtime.understanding import Taken

LATE_S = 10.0
"""An utterance that has waited so long is not heard any more: what was said of it since counts."""


class SecondEar(Protocol):
    """What hears an utterance once more."""

    def start(self) -> None:
        """Make ready, which takes seconds; :meth:`hear` does it where nobody did.

        Raises:
            EarFault: it cannot be used here.
        """

    def hear(self, clip: Clip) -> Heard:
        """What it makes of it.

        Raises:
            EarFault: it cannot, and never will.
        """

    def close(self) -> None:
        """It is needed no more."""


@dataclass(frozen=True, slots=True)
class Job:
    """An utterance that a second ear could change something about.

    Args:
        clip: its sound.
        taken: what was made of it.
        reason: why a second ear is asked.
        since_s: when it was acknowledged, in seconds of :func:`time.monotonic`.
    """

    clip: Clip
    taken: Taken
    reason: str
    since_s: float


@dataclass(frozen=True, slots=True)
class Answered:
    """What came of a job.

    Args:
        job: which.
        opinion: what was heard; its verdict is not worked out yet where there is anything.
        fault: why the ear is gone; empty where it is not.
    """

    job: Job
    opinion: Opinion
    fault: str = ""


class Asking(Protocol):
    """Where jobs go, and answers come from; every call returns at once."""

    def ask(self, job: Job) -> Job | None:
        """Have it heard; gives the job that is dropped for it, or itself."""

    def ready(self) -> Answered | None:
        """The next answer, where there is one."""

    def rest(self) -> list[Job]:
        """The jobs that have no answer yet; they will get none."""

    def close(self) -> None:
        """Nothing more will be asked."""


class SecondEarThread:
    """Has a second ear hear, one job after the other (an :class:`Asking`).

    Args:
        ear: which; used by the thread alone, and closed by :meth:`close`.
    """

    def __init__(self, ear: SecondEar) -> None:
        self._ear = ear
        self._change = threading.Condition()
        self._waiting: Job | None = None
        self._at_work: Job | None = None
        self._over = False
        self._answers: SimpleQueue[Answered] = SimpleQueue()
        self._thread = threading.Thread(target=self._run, name="second ear", daemon=True)
        self._thread.start()

    def ask(self, job: Job) -> Job | None:
        """The newest waits, but an unsafe one before it stays."""
        with self._change:
            if self._over:
                return job
            before, weighty = self._waiting, job.reason == UNSAFE
            if before is not None and before.reason == UNSAFE and not weighty:
                return job
            self._waiting = job
            self._change.notify()
            return before

    def ready(self) -> Answered | None:
        """The next answer, where there is one."""
        try:
            return self._answers.get_nowait()
        except Empty:
            return None

    def rest(self) -> list[Job]:
        """What is heard just now, and what waits."""
        with self._change:
            left = [job for job in (self._at_work, self._waiting) if job is not None]
            self._over, self._at_work, self._waiting = True, None, None
            self._change.notify()
            return left

    def close(self) -> None:
        """End it, whatever it is doing."""
        self.rest()
        self._ear.close()
        self._thread.join(1.0)

    def _run(self) -> None:
        fault = self._started()
        while (job := self._next()) is not None:
            answered = self._failed(job, 0.0, fault) if fault else self._heard(job)
            with self._change:  # whoever ends it finds each job in one place: at work, or answered
                if self._at_work is not None:
                    self._answers.put(answered)
                self._at_work, self._over = None, self._over or bool(answered.fault)

    def _started(self) -> str:
        """Why it cannot be used; empty where it can."""
        try:
            self._ear.start()
        except EarFault as fault:
            return str(fault)
        return ""

    def _next(self) -> Job | None:
        with self._change:
            self._change.wait_for(lambda: self._over or self._waiting is not None)
            if self._over:
                return None
            self._at_work, self._waiting = self._waiting, None
            return self._at_work

    def _heard(self, job: Job) -> Answered:
        begun = monotonic()
        if begun - job.since_s > LATE_S:
            return Answered(job, Opinion(job.reason, Verdict.DROPPED))
        try:
            heard = self._ear.hear(job.clip)
        except EarFault as fault:
            return self._failed(job, monotonic() - begun, str(fault))
        return Answered(job, Opinion(job.reason, Verdict.NOTHING, heard, monotonic() - begun))

    @staticmethod
    def _failed(job: Job, took_s: float, fault: str) -> Answered:
        return Answered(job, Opinion(job.reason, Verdict.FAILED, None, took_s), fault)
