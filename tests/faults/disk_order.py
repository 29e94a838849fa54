"""What holds the order of a log: locks that a file system may not have, a clock that may go back."""

from __future__ import annotations

import errno
import fcntl
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from disk_cases import BEGINS_AFTER, Bench
from disk_live import Lived, live
from figures import Row

from voicelog.errors import LockedFault
from voicelog.journal import clock, lock
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.runtime import opening


def without_locks(bench: Bench) -> Iterator[Row]:
    """A file system that has no locks, by each of its answers."""
    real = fcntl.flock
    for code in (errno.ENOSYS, errno.ENOLCK, errno.EOPNOTSUPP):
        what = f"a file system without locks ({errno.errorcode[code]})"
        into, wrong = bench.into(what), list[str]()

        def flock(handle: int, how: int, into: Path = into, code: int = code) -> None:
            if Path(f"/proc/self/fd/{handle}").readlink().is_relative_to(into):
                raise OSError(code, "no locks here")
            real(handle, how)

        def second(lived: Lived, took: int, wrong: list[str] = wrong) -> None:
            if took == 1:
                wrong += _second_writer(lived.into)

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(fcntl, "flock", flock)
            patch.setenv("XDG_RUNTIME_DIR", str(bench.folder))  # where the lock is stood in for
            lived = live(into, bench.recordings, bench.known, watch=second)
            for folder in into.iterdir():
                Journal.reopen(folder).close()
                wrong += ["it stays locked"] if lock.is_locked(folder) else []
        yield bench.row(what, lived, tuple(dict.fromkeys(wrong)), "a second writer is refused")


def _second_writer(into: Path) -> Iterator[str]:
    for folder in into.iterdir():
        if not lock.is_locked(folder):
            yield "nobody can see that it is being written"
        try:
            Journal.reopen(folder).close()
        except LockedFault:
            continue
        yield "a second writer was let in"


def clock_set_back(bench: Bench) -> Row:
    """The wall clock goes back by a day in the middle, and is still back when it is gone on with."""
    what = "the clock set back by a day in the middle, and gone on with"
    back, into = timedelta(0), bench.into(what)

    class Moment(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> datetime:  # type: ignore[override]
            return datetime.now(tz) + back

    def watch(_lived: Lived, took: int) -> None:
        nonlocal back
        back = timedelta(days=-1) if took >= BEGINS_AFTER else back

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(clock, "utc_now", lambda: datetime.now(UTC) + back)
        patch.setattr(opening, "datetime", Moment)
        first = live(into, bench.recordings[:3], bench.known, watch=watch)
        lived = live(into, bench.recordings[3:], bench.known, resume="last")
    lived.acknowledged = [*first.acknowledged, *lived.acknowledged]
    return bench.row(what, lived, tuple(_disorder(into)), "numbers, ids and seconds go on rising")


def _disorder(into: Path) -> Iterator[str]:
    facts = [fact for folder in into.iterdir() for fact in read_log(folder).facts]
    times, offsets = [fact.at for fact in facts], [fact.offset_s for fact in facts]
    ids = [fact.body["utterance"] for fact in facts if "utterance" in fact.body]
    if times == sorted(times):
        yield "the clock was never set back"
    if offsets != sorted(offsets) or [f.seq for f in facts] != list(range(1, len(facts) + 1)):
        yield "the order does not hold"
    if len(set(ids)) != len(ids):
        yield "an id was given twice"
