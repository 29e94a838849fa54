"""What a person hears and sees while a disk fails under a live inspection, and is whole again, or not."""

from __future__ import annotations

import errno
import fcntl
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from crash_ear import Known
from disk_calls import Between, Call, Disk
from disk_live import Lived, live
from figures import Row

from voicelog.errors import LockedFault
from voicelog.journal import clock, lock
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.runtime import opening

BEGINS_AFTER = 2
"""Utterances that a disk takes before it fails."""
REFUSALS = 3
"""So often it refuses before it takes everything again."""
SLOW_S = 2.0
"""Each write of a slow disk."""


@dataclass(frozen=True)
class Bench:
    """What every case is tried with.

    Args:
        folder: where logs go.
        recordings: played.
        known: what the ear heard in them before.
    """

    folder: Path
    recordings: tuple[Path, ...]
    known: Known

    def into(self, name: str) -> Path:
        """A folder of its own for a case."""
        folder = self.folder / "".join(c if c.isalnum() else "-" for c in name)
        folder.mkdir()
        return folder

    def row(self, what: str, lived: Lived, more: tuple[str, ...] = (), note: str = "") -> Row:
        """One case: it came through where nothing is wrong and every recording was taken."""
        wrong = [*lived.faults, *more]
        if len(lived.acknowledged) != len(self.recordings):
            wrong.append(f"{len(lived.acknowledged)} of {len(self.recordings)} taken")
        told = "; ".join((*([note] if note else []), lived.told()))
        return Row(what, 1, int(not wrong), f"LOST: {'; '.join(wrong)}; {told}" if wrong else told)


def failing(bench: Bench) -> Iterator[Row]:
    """Refused, for a while: fact or sound, by every error a disk is known to give."""
    kinds = (
        ("no space", errno.ENOSPC, "write", True), ("quota used up", errno.EDQUOT, "write", False),
        ("I/O error on write", errno.EIO, "write", True),
        ("I/O error on fsync", errno.EIO, "fsync", False),
        ("made read-only", errno.EROFS, "write", False),
    )  # fmt: skip
    for told, code, call, half in kinds:
        for about, of in (("journal.jsonl", "fact"), ("/clips", "sound")):
            what = f"{told}, {of} refused {REFUSALS} times"
            disk = Disk(into := bench.into(what))
            disk.code, disk.about, disk.half = code, about, half
            lived = live(
                into,
                bench.recordings,
                bench.known,
                between=disk.between,
                watch=_for_a_while(disk, call),
            )
            quiet = () if disk.refusals >= REFUSALS else ("the disk never refused",)
            yield bench.row(what, lived, quiet)


def _for_a_while(disk: Disk, call: str) -> Callable[[Lived, int], None]:
    def watch(_lived: Lived, took: int) -> None:
        if disk.refusals >= REFUSALS:
            disk.recover()
        elif took >= BEGINS_AFTER:
            disk.refuse_all(call)

    return watch


def to_the_end(bench: Bench) -> Row:
    """The disk stays full, and the person stops: what was not kept is told with the end."""
    what = "no space until the inspection is stopped, then gone on with"
    disk = Disk(into := bench.into(what))

    def watch(_lived: Lived, took: int) -> None:
        if took >= BEGINS_AFTER:
            disk.refuse_all("write")

    full = live(
        into, bench.recordings, bench.known, between=disk.between, watch=watch,
        stop_when=lambda lived: lived.refused and disk.refusals >= REFUSALS,
    )  # fmt: skip
    wrong = (*full.faults, *(() if full.closed.exit_code == 7 else ("the end does not tell",)))
    again = live(into, bench.recordings, bench.known, resume="last")
    again.acknowledged += full.acknowledged
    wrong += (*again.faults, *([again.closed.fault] if again.closed.fault else []))
    return Row(what, 1, int(not wrong), f"{'LOST: ' + '; '.join(wrong) if wrong else full.told()}")


def short(bench: Bench) -> Row:
    """Every write takes only a part."""
    what = "short writes: each takes 100 bytes at most"

    def meet(call: Call) -> Any:
        if call.name != "write":
            return call.go_on()
        return call.real(call.given[0], bytes(call.given[1])[:100])

    into = bench.into(what)
    return bench.row(what, live(into, bench.recordings, bench.known, between=Between(meet, into)))


def slow(bench: Bench) -> Row:
    """Every write takes its time, at the pace of life."""
    what = f"slow: each write takes {SLOW_S:g} s"

    def meet(call: Call) -> Any:
        if call.name == "write":
            time.sleep(SLOW_S)
        return call.go_on()

    into, few = bench.into(what), Bench(bench.folder, bench.recordings[:3], bench.known)
    lived = live(
        into, few.recordings, few.known, between=Between(_once_open(meet), into), speed=1.0
    )
    delays = ", ".join(f"{delay_s:.1f}" for delay_s in lived.delays_s)
    return few.row(what, lived, note=f"from the end of speech to the tone: {delays} s")


def _once_open(meet: Callable[[Call], Any]) -> Callable[[Call], Any]:
    """Not while the grammar is copied: a start of two minutes shows nothing more."""

    def later(call: Call) -> Any:
        return call.go_on() if "/grammar" in call.path else meet(call)

    return later


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
