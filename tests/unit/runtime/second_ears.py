"""Second ears without a model: one that hears what a test says, and one that answers at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.opinion import Opinion, Verdict
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault
from voicelog.runtime.second_ear import Answered, Job

GONE = EarFault("The second ear crashed", "The inspection goes on with one ear")


def heard(text: str, engine: str = "second") -> Heard:
    """Words as an ear writes them."""
    words = tuple(Word(word, 0.9) for word in text.split())
    return Heard((Hypothesis(text, -1.0, words),) if text else (), engine, "a model")


@dataclass
class Fake:
    """Hears what it is told to, one text after the other; None is a crash."""

    texts: list[str | None]
    clips: list[Clip] = field(default_factory=list)
    closed: int = 0

    def start(self) -> None:
        """It is always ready."""

    def hear(self, clip: Clip) -> Heard:
        """The next text."""
        self.clips.append(clip)
        text = self.texts.pop(0)
        if text is None:
            raise GONE
        return heard(text)

    def close(self) -> None:
        """Count it."""
        self.closed += 1


@dataclass
class AtOnce:
    """Answers jobs when a test lets it: by default as soon as somebody looks.

    Args:
        ear: hears them.
        open: answers come out; else they wait.
    """

    ear: Fake
    open: bool = True
    jobs: list[Job] = field(default_factory=list)
    reasons: list[str] = field(default_factory=list)
    closed: bool = False
    look: Callable[[], None] = lambda: None

    def ask(self, job: Job) -> Job | None:
        """Only one waits: the newest."""
        self.reasons.append(job.reason)
        dropped = self.jobs.pop() if self.jobs else None
        self.jobs.append(job)
        return dropped

    def ready(self) -> Answered | None:
        """The answer to the job that waits."""
        if not (self.open and self.jobs):
            return None
        job = self.jobs.pop()
        try:
            told = self.ear.hear(job.clip)
        except EarFault as fault:
            return Answered(job, Opinion(job.reason, Verdict.FAILED), str(fault))
        return Answered(job, Opinion(job.reason, Verdict.NOTHING, told, 0.25))

    def rest(self) -> list[Job]:
        """What was not answered."""
        left, self.jobs = self.jobs, []
        return left

    def close(self) -> None:
        """Remember it."""
        self.closed = True
