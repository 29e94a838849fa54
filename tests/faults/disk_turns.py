"""At every call to the disk in turn: refused, killed, or the power cut; nothing acknowledged is lost."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from typing import Any

from disk_calls import Between, Call
from disk_happens import Dead, DiesOfIt
from disk_power import Platter

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import StorageFault
from voicelog.journal.journal import Journal
from voicelog.journal.naming import JOURNAL
from voicelog.journal.reading import read_log, verify
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.session import Session

SAID = (
    "left sill, surface rust",
    "right rear rail, hole, thirty millimetres",
    "scraper went through it",
)
CLIP = Clip(bytes(range(250)) * 200, start_s=1.0, speech_end_s=2.5)
TRIES = 4
"""How often a refused utterance is given again."""


@dataclass
class Turn:
    """One inspection in which something happens at one call to the disk.

    Args:
        folder: of its own.
        grammar: in force.
        at: the number of the call; what happens there.
        happens: raises, or does the call.
    """

    folder: Path
    grammar: Grammar
    at: int
    happens: Callable[[Call], Any]
    acknowledged: list[str] = field(default_factory=list)
    happened: bool = False
    dead: bool = False

    def __post_init__(self) -> None:
        self._memory, self._journals = self.folder / "memory", list[Journal]()
        self._memory.mkdir(parents=True)
        self._platter = Platter(self._memory)

    def run(self, *, reopen: bool) -> list[str]:
        """What was lost or damaged when the power was cut at its end, one sentence each.

        Args:
            reopen: go on with one more utterance before, as often as it takes.
        """
        with Between(self._meet, self._memory):
            self._until_dead(self._inspect)
            if reopen and self._until_dead(self._go_on):
                self._until_dead(self._go_on)
        self._platter.after_power_cut(self.folder / "platter")
        wrong = [*self._wrong(self._memory), *self._wrong(self.folder / "platter")]
        shutil.rmtree(self.folder)
        return wrong

    def _until_dead(self, work: Callable[[], None]) -> bool:
        """Does it; True when it was killed on the way. The system lets go of a dead program's lock."""
        with suppress(Dead):
            work()
        for journal in self._journals:
            journal.close()
        died, self.dead = self.dead, False
        return died

    def _inspect(self) -> None:
        files = {"words/w.toml": b"w"}
        self._say(self._again(lambda: Journal.create(self._memory, opened={}, grammar=files)), SAID)

    def _go_on(self) -> None:
        for folder in _began(self._memory):
            self._say(self._again(lambda folder=folder: Journal.reopen(folder)), SAID[:1])  # type: ignore[misc]

    def _say(self, journal: Journal, said: tuple[str, ...]) -> None:
        self._journals.append(journal)
        with Session(Settings(), self.grammar, journal=journal, ear=TypedEar()) as session:
            for text in said:
                event = self._again(
                    lambda text=text: (
                        session.settle()  # type: ignore[misc]
                        if session.is_due
                        else session.hear(CLIP, heard=Heard.typed(text))
                    )
                )
                self.acknowledged.append(event.utterance)

    def _again(self, do: Callable[[], Any]) -> Any:
        for _ in range(TRIES):
            try:
                return do()
            except StorageFault as fault:
                told = fault
        raise told

    def _meet(self, call: Call) -> Any:
        if self.dead:
            raise Dead
        if call.number == self.at and not self.happened:
            self.happened = True
            return self._platter.done(call, lambda: self._happen(call))
        return self._platter.done(call, call.go_on)

    def _happen(self, call: Call) -> Any:
        try:
            return self.happens(call)
        except (Dead, DiesOfIt):
            self.dead = True
            raise

    def _wrong(self, into: Path) -> Iterator[str]:
        lost, began = set(self.acknowledged), _began(into)
        if began:
            yield from verify(began[0]).problems
            facts = read_log(began[0]).facts
            lost -= {fact.body["utterance"] for fact in facts if "clip" in fact.body}
        yield from (f"{utterance} was acknowledged and is lost" for utterance in sorted(lost))


def _began(into: Path) -> list[Path]:
    found = into.glob(f"*/{JOURNAL}")
    return [path.parent for path in found if b"\n" in path.read_bytes()]


def at_every_call(
    folder: Path,
    grammar: Grammar,
    happens: Callable[[Call], Any],
    *,
    reopen: bool = False,
    step: int = 1,
) -> tuple[int, list[str]]:
    """How many calls it happened at, and everything that was lost or damaged.

    Args:
        folder: for the logs.
        grammar: in force.
        happens: at the call.
        reopen: one more utterance follows before the power is cut.
        step: 1 tries every call, 2 every second.
    """
    wrong: list[str] = []
    for tried in count():
        turn = Turn(folder / str(tried), grammar, tried * step, happens)
        wrong += [f"at call {turn.at}: {one}" for one in turn.run(reopen=reopen)]
        if not turn.happened:
            return tried, wrong
    raise AssertionError("unreachable")
