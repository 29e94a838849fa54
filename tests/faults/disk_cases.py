"""What a person hears and sees while a disk fails under a live inspection, and is whole again, or not."""

from __future__ import annotations

import errno
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from crash_ear import Known
from disk_calls import Between, Call, Disk
from disk_live import Lived, live
from figures import Row

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
