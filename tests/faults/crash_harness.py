"""Kills, checks, goes on: one kill after another, and what came of them."""

from __future__ import annotations

import json
import random
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import crash_hear
from crash_check import Acknowledged, faults_of, log_in, notices_of
from crash_child import Child, Walk, fork
from crash_ear import Known
from crash_tally import Tally

from voicelog.config.data import samples_dir
from voicelog.runtime.launching import bundled

MOST_KILLS_OF_A_LOG = 4
_ENDS = ("finish", "stand by")
"""What no inspection is gone on with after, or nothing is kept after."""
TYPED = "left sill, surface rust"
"""Said after every kill, to see that the inspection goes on."""


def words_of() -> dict[Path, str]:
    """The bundled recordings with their words, but for those that end or pause an inspection."""
    told = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))["utterances"]
    said = {one["file"]: one["text"] for one in told}
    words = {path: said[path.name] for path in bundled()}
    return {path: text for path, text in words.items() if not any(e in text for e in _ENDS)}


def recordings() -> tuple[Path, ...]:
    """The same without their words."""
    return tuple(words_of())


@dataclass
class Log:
    """One folder for a log, killed a few times."""

    into: Path
    acknowledged: Acknowledged = field(default_factory=list)
    kills_left: int = 1
    told: set[str] = field(default_factory=set)


@dataclass
class Harness:
    """Kills, checks, goes on.

    Args:
        chance: decides everything.
        folder: where logs go.
        known: what the ear heard before.
        calls: to the disk in an inspection that nobody kills: until it is open, and in all; for a new
            one and for one gone on with.
    """

    chance: random.Random
    folder: Path
    known: Known
    calls: dict[bool, tuple[int, int]] = field(default_factory=dict)
    logs: int = 0
    log: Log | None = None

    def try_once(
        self, tally: Tally, walk: Callable[[Log], Walk], after: int | None, by: str
    ) -> None:
        """One kill, what it left, and one more utterance.

        Args:
            tally: where it is counted.
            walk: the inspection to be killed.
            after: kill after so many acknowledged utterances of the child; None at no certain one.
            by: ``clock`` from outside, ``call`` by itself.
        """
        log = self._log()
        child = fork(walk(log))
        if by == "clock":
            self._wait_and_kill(child, after)
        status = child.end()
        log.acknowledged += child.acknowledged
        log.kills_left -= 1
        if status != -9:
            return self._not_killed(tally, child, status)
        self._count(tally, log, child)
        faults = faults_of(log.into, log.acknowledged) or list(self._go_on(log))
        tally.faults += faults
        tally.survived += not faults
        return None

    def calls_of(self, log: Log) -> tuple[int, int]:
        """How many calls an inspection like the next one of this log makes."""
        return self.calls[self.begun(log)]

    def begun(self, log: Log) -> bool:
        """A log is there to go on with."""
        return log_in(log.into) is not None

    def measure(self) -> None:
        """Counts calls to the disk where nobody is killed."""
        log = Log(self._new_folder())
        for resumed in (False, True):
            child = fork(self.walk(log))
            if child.end() or child.closed is None or child.closed["fault"]:
                raise SystemExit(f"an inspection that nobody kills fails: {child.closed}")
            self.calls[resumed] = child.calls

    def walk(self, log: Log, known: bool = True, dies_at: int | None = None) -> Walk:
        """The next inspection of a log, with recordings drawn anew."""
        resume = "last" if self.begun(log) else ""
        played = tuple(self.chance.sample(recordings(), 4))
        where = self.chance.choice(("before", "half", "half", "after"))
        heard = self.known if known else None
        return Walk(log.into, played, resume, known=heard, dies_at=dies_at, where=where)

    def _log(self) -> Log:
        if self.log is None or not self.log.kills_left:
            kills = self.chance.randint(1, MOST_KILLS_OF_A_LOG)
            self.log = Log(self._new_folder(), kills_left=kills)
        return self.log

    def _new_folder(self) -> Path:
        self.logs += 1
        into = self.folder / f"log{self.logs}"
        into.mkdir()
        return into

    def _wait_and_kill(self, child: Child, after: int | None) -> None:
        seen = -1 if after is None else 0
        for kind in child.lines() if after is not None else ():
            seen += kind == "took"
            if kind in ("took", "opened") and seen >= (after or 0):
                break
        time.sleep(self.chance.uniform(0.0, 0.6 if seen >= 0 else 1.2))
        child.kill()

    def _not_killed(self, tally: Tally, child: Child, status: int) -> None:
        """It came to its end before its kill; that proves nothing, so another is tried."""
        tally.by_itself += 1
        if status or child.closed is None or child.closed["fault"]:
            tally.faults.append(f"it ended by itself with {status}: {child.closed}")

    def _count(self, tally: Tally, log: Log, child: Child) -> None:
        tally.kills += 1
        tally.acknowledged += len(child.acknowledged)
        tally.before_opening += not child.opened
        self._count_notices(tally, log)

    def _count_notices(self, tally: Tally, log: Log) -> None:
        notices = set(notices_of(log.into)) - log.told
        log.told |= notices
        tally.take(notices)

    def _go_on(self, log: Log) -> Iterator[str]:
        """One more utterance by voice and one by keyboard, and a check of everything once more."""
        resume = "last" if self.begun(log) else ""
        one = (self.chance.choice(recordings()),)
        child = fork(Walk(log.into, one, resume, TYPED, self.known))
        status, closed = child.end(), child.closed
        log.acknowledged += child.acknowledged
        if status or closed is None or closed["fault"]:
            yield f"it could not be gone on with: {status}, {closed}"
        if [taken["text"] for taken in child.acknowledged][-1:] != [TYPED]:
            yield "gone on with, it took no further utterance"
        yield from faults_of(log.into, log.acknowledged)

    def hear_once(self, tally: Tally) -> None:
        """One kill of ``voicelog hear`` in a process of its own, as a person starts it."""
        log = Log(self._new_folder())
        after = self.chance.choice((None, 0, 1, 1, 2))
        moment_s = self.chance.uniform(0.0, 2.5 if after is None else 1.0)
        played = tuple(self.chance.sample(recordings(), 4))
        shown = crash_hear.kill(played, log.into, after, moment_s)
        tally.kills += 1
        tally.acknowledged += len(shown)
        tally.before_opening += not self.begun(log)
        self._count_notices(tally, log)
        faults = crash_hear.faults_of(log.into, shown) or list(self._go_on(log))
        tally.faults += faults
        tally.survived += not faults
