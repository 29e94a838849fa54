"""What a case of ``machine.py`` is, and how it is judged: by the log it leaves, not by what it says."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from machine_run import Running

from voicelog.capture.source import read_audio
from voicelog.config.data import samples_dir
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.logs import open_log

SLICE = 16_000
"""Bytes (half a second) of a recording that are looked for in the log's own clips."""
CAUTIONS = "Before you begin"


@dataclass(frozen=True)
class Outcome:
    """What came of it.

    Args:
        heard: what the person heard, in the order asked for.
        seen: what stood on the screen.
        code: the exit status; minus the signal, where one ended it.
        log: how the log was left, in words.
        faults: what did not behave.
    """

    heard: tuple[str, ...]
    seen: tuple[str, ...]
    code: int
    log: str
    faults: tuple[str, ...] = ()

    @property
    def told(self) -> str:
        """All of it in a line of the report."""
        heard = "; ".join(self.heard) or "nothing"
        seen = "; ".join(f"“{text}”" for text in self.seen) or "nothing"
        return f"hears: {heard} · sees: {seen} · exit {self.code} · log: {self.log}"


@dataclass(frozen=True)
class Case:
    """Something that befalls the machine.

    Args:
        part: ``microphone``, ``ear``, ``terminal`` or ``signals``.
        name: for tests.
        what: in words.
        play: does it.
        quick: the tests try it as well.
    """

    part: str
    name: str
    what: str
    play: Callable[[Stage], Outcome]
    quick: bool


CASES: list[Case] = []


def case(part: str, what: str, *, quick: bool = False) -> Callable[[Any], Any]:
    """Enter a function among the cases."""

    def entered(play: Callable[[Stage], Outcome]) -> Callable[[Stage], Outcome]:
        CASES.append(Case(part, play.__name__.replace("_", "-"), what, play, quick))
        return play

    return entered


@dataclass
class Stage:
    """Where a case is played.

    Args:
        folder: for its files alone.
    """

    folder: Path
    runs: list[Running] = field(default_factory=list)

    @property
    def logs(self) -> Path:
        """Where inspections go."""
        return self.folder / "logs"

    def start(self, *more: str, plain: bool = True, **how: Any) -> Running:
        """A ``voicelog start`` that asks nothing first."""
        words = ["start", "--no-ask", "--ear", "built-in", "--into", str(self.logs), *more]
        run = Running(self.folder, [*words, *(["--plain"] if plain else [])], **how)
        self.runs.append(run)
        return run

    def lines(self, *more: str, **how: Any) -> Running:
        """One that prints lines and listens already."""
        run = self.start(*more, **how)
        run.until(CAUTIONS)
        run.type("a\n")
        run.until("[Listening]")
        return run

    def screen(self, *more: str, **how: Any) -> Running:
        """One with a screen, that listens already."""
        run = self.start(*more, plain=False, screen=True, **how)
        run.until("Say “affirm”")
        run.type("a")
        run.until("Say where you are")
        return run

    def goes_on(self, run: Running) -> None:
        """What befell it is over: a sentence is heard as ever, and it is stopped."""
        run.say("d29")
        run.until("surface rust")
        run.type("q\n")

    def close(self) -> None:
        """Nothing of it goes on."""
        for run in self.runs:
            if run.process.poll() is None:
                run.kill()

    def judge(
        self,
        run: Running,
        *,
        code: int,
        heard: Sequence[str] = (),
        seen: Sequence[str] = (),
        kept: Sequence[str] = (),
        last: str = "stopped",
        types: Sequence[str] = (),
    ) -> Outcome:
        """Wait for its end, and compare.

        Args:
            run: the process.
            code: its exit status.
            heard: parts of what a person has to have heard.
            seen: parts of what has to have stood on the screen.
            kept: recordings whose sound has to be in the log.
            last: kind of the log's last line; empty where there must be no log at all.
            types: kinds of lines that the log has to have.
        """
        ended = run.end()
        ever = " ".join((run.seen + run.ever).split())
        faults = [f"not heard: {text}" for text in heard if text not in run.heard]
        faults += [f"not seen: {text}" for text in seen if " ".join(text.split()) not in ever]
        faults += [f"exit {ended}, not {code}"] if ended != code else []
        faults += ["a defect was shown"] if "Traceback" in ever else []
        log, wrong = self._log(last, kept, types)
        told = tuple(line.removeprefix("said ") for line in heard)
        return Outcome(told, tuple(seen), ended, log, (*faults, *wrong))

    def _log(
        self, last: str, kept: Sequence[str], types: Sequence[str]
    ) -> tuple[str, Sequence[str]]:
        folders = [path for path in self.logs.glob("*") if path.is_dir()]
        if not last:
            return "none was begun", [f"a log of nothing: {path.name}" for path in folders]
        if len(folders) != 1:
            return "?", [f"{len(folders)} logs"]
        facts = [fact.type for fact in read_log(folders[0]).facts]
        faults = [f"{problem}" for problem in verify(folders[0]).problems]
        faults += [f"no line {kind!r}: {facts}" for kind in types if kind not in facts]
        faults += [f"the sound of {name} is lost" for name in kept if not held(folders[0], name)]
        faults += [] if facts[-1] == last else [f"it ends with {facts[-1]!r}"]
        faults += _gone_on(folders[0])
        lines = f", {', '.join(types)} written" if types else ""
        return f"ends with *{facts[-1]}*{lines}, can be gone on with", faults


def _gone_on(folder: Path) -> list[str]:
    """Why it cannot be gone on with; nothing where it can."""
    try:
        open_log(folder)
        Journal.reopen(folder).close()
    except Exception as fault:  # whatever it is, the case has failed
        return [f"it cannot be gone on with: {fault!r}"]
    return []


def held(folder: Path, name: str) -> bool:
    """The middle of a recording is in the log's clips, sample for sample."""
    sound = recorded(name)
    middle = len(sound) // 4 * 2
    part = sound[middle : middle + SLICE]
    return any(part in b"".join(read_audio(clip)) for clip in sorted(folder.glob("clips/*.flac")))


@cache
def recorded(name: str) -> bytes:
    """The samples of a bundled recording."""
    return b"".join(read_audio(samples_dir() / f"{name}.flac"))


def pause(seconds: float) -> None:
    """Time in which something goes on that nothing tells of."""
    time.sleep(seconds)
