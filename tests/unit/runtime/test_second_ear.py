"""The thread that a second ear works on: one at a time, one waiting, and an end to both."""

from __future__ import annotations

import threading
from collections.abc import Callable
from time import monotonic, sleep

from second_ears import GONE, Fake, heard

from voicelog.domain.heard import Heard
from voicelog.domain.opinion import Verdict
from voicelog.domain.sound import Clip
from voicelog.runtime.second_ear import LATE_S, Answered, Job, SecondEarThread
from voicelog.runtime.second_opinion import DOUBTFUL, UNSAFE

CLIP = Clip(bytes(3200), 0.0, 0.1)


class Slow(Fake):
    """Hears only once a test lets it."""

    def __init__(self) -> None:
        super().__init__([])
        self.begun, self.go_on = threading.Event(), threading.Event()

    def hear(self, clip: Clip) -> Heard:
        """Whatever was said, when it may."""
        self.begun.set()
        assert self.go_on.wait(5.0)
        return heard("left sill hole")


def _job(reason: str = DOUBTFUL, since_s: float | None = None) -> Job:
    since_s = monotonic() if since_s is None else since_s
    return Job(CLIP, None, reason, since_s)  # type: ignore[arg-type]


def _next(ear: SecondEarThread) -> Answered:
    """Its next answer, which is on its way."""
    return _until(ear.ready)


def _until(ready: Callable[[], Answered | None]) -> Answered:
    end_s = monotonic() + 5.0
    while monotonic() < end_s:
        answered = ready()
        if answered is not None:
            return answered
        sleep(0.005)
    raise AssertionError("no answer came")


def test_it_hears_one_after_the_other() -> None:
    """And nobody waits for it."""
    ear = SecondEarThread(Fake(["left sill", "right sill"]))
    first = _job()
    assert ear.ask(first) is None
    answered = _next(ear)
    assert answered.job is first
    assert answered.opinion.heard == heard("left sill")
    ear.ask(_job())
    assert _next(ear).opinion.heard == heard("right sill")
    ear.close()


def test_only_the_newest_waits_and_unsafe_before_it() -> None:
    """What it would hear too late anyway is dropped, and told to who asked."""
    slow = Slow()
    ear = SecondEarThread(slow)
    ear.ask(_job())
    assert slow.begun.wait(5.0)
    older, newer, unsafe, late = _job(), _job(), _job(UNSAFE), _job()
    assert ear.ask(older) is None
    assert ear.ask(newer) is older
    assert ear.ask(unsafe) is newer
    assert ear.ask(late) is late
    slow.go_on.set()
    _next(ear)
    assert _next(ear).job is unsafe
    ear.close()


def test_what_waited_too_long_is_not_heard() -> None:
    """It says so instead."""
    fake = Fake([])
    ear = SecondEarThread(fake)
    ear.ask(_job(since_s=monotonic() - LATE_S - 1.0))
    assert _next(ear).opinion.verdict is Verdict.DROPPED
    assert fake.clips == []
    ear.close()


def test_a_crash_is_its_last_answer() -> None:
    """What is asked after it comes back at once."""
    ear = SecondEarThread(Fake([None]))
    ear.ask(_job())
    answered = _next(ear)
    assert (answered.opinion.verdict, answered.fault) == (Verdict.FAILED, str(GONE))
    job = _job()
    assert ear.ask(job) is job
    ear.close()


def test_one_that_cannot_start_says_so_when_it_is_asked() -> None:
    """Not before: whoever never needs it has nothing to read about it."""

    class Broken(Fake):
        def start(self) -> None:
            raise GONE

    ear = SecondEarThread(Broken([]))
    assert ear.ready() is None
    ear.ask(_job())
    assert _next(ear).fault == str(GONE)
    ear.close()


def test_the_end_names_what_was_not_heard() -> None:
    """What it is hearing and what waits; no answer comes after that."""
    slow = Slow()
    ear = SecondEarThread(slow)
    at_work, waiting = _job(), _job()
    ear.ask(at_work)
    assert slow.begun.wait(5.0)
    ear.ask(waiting)
    assert ear.rest() == [at_work, waiting]
    slow.go_on.set()
    ear.close()
    assert ear.ready() is None
    assert slow.closed == 1


def test_a_crash_leaves_what_waits_to_be_named() -> None:
    """It will have no answer, and is not forgotten."""

    class Crashes(Slow):
        def hear(self, clip: Clip) -> Heard:
            super().hear(clip)
            raise GONE

    crashes = Crashes()
    ear = SecondEarThread(crashes)
    at_work, waiting = _job(), _job()
    ear.ask(at_work)
    assert crashes.begun.wait(5.0)
    ear.ask(waiting)
    crashes.go_on.set()
    assert _next(ear).job is at_work
    assert ear.rest() == [waiting]
    ear.close()
