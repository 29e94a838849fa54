"""The power is cut on a disk that has only what was synced, and forgets what a failed sync left."""

from __future__ import annotations

import errno
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))

from disk_calls import Between, Call
from disk_happens import die_of_a_failed_sync, die_within, refuse
from disk_power import Platter
from disk_turns import at_every_call

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.sound import Clip
from voicelog.errors import StorageFault
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify

CLIP = Clip(bytes(range(250)) * 32, start_s=1.0, speech_end_s=1.2)


@dataclass
class Power:
    """A disk whose power can be cut.

    Args:
        folder: of its own.
        fails: calls that fail from now on.
    """

    folder: Path
    fails: set[str] = field(default_factory=set)

    @contextmanager
    def on(self) -> Iterator[Path]:
        """A folder that is written through this disk, to be cut off at the end."""
        memory = self.folder / "memory"
        memory.mkdir()
        platter = Platter(memory)
        with Between(lambda call: platter.done(call, lambda: self._do(call)), memory):
            yield memory
        platter.after_power_cut(self.folder / "platter")

    @property
    def log(self) -> Path:
        """What is left of the one log."""
        (folder,) = (self.folder / "platter").iterdir()
        return folder

    def _do(self, call: Call) -> Any:
        if call.name in self.fails:
            raise call.refused(errno.EIO)
        return call.go_on()


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """As it ships; checked once."""
    return load_grammar()


def test_only_what_was_synced_is_left(tmp_path: Path) -> None:
    """The disk that these tests build on does forget."""
    power = Power(tmp_path)
    with power.on() as memory:
        Journal.create(memory, opened={}, grammar={}).close()
        (folder,) = memory.iterdir()
        with (folder / "journal.jsonl").open("ab") as file:
            file.write(b"not synced\n")
    assert b"not synced" not in (power.log / "journal.jsonl").read_bytes()
    assert verify(power.log).lines == 1


def test_a_line_that_a_dead_program_could_not_sync_is_written_again(tmp_path: Path) -> None:
    """It reads as whole, and nothing of it is on the disk: what is acknowledged after it would be
    lost with it.
    """
    power = Power(tmp_path)
    with power.on() as memory:
        journal = Journal.create(memory, opened={}, grammar={})
        power.fails = {"fsync", "ftruncate"}
        with pytest.raises(StorageFault):
            journal.append("utterance", {"utterance": "u2", "text": "x" * 9000})
        journal.close()
        power.fails = set()
        with Journal.reopen(journal.folder) as again:
            again.append("utterance", {"utterance": "u3"})
    assert verify(power.log).problems == ()
    assert [fact.seq for fact in read_log(power.log).facts] == [1, 2, 3]


def test_a_folder_of_clips_that_a_dead_program_left_is_made_anew(tmp_path: Path) -> None:
    """Its name may be in memory only, and every clip in it would be gone with it."""
    power = Power(tmp_path)
    with power.on() as memory:
        with Journal.create(memory, opened={}, grammar={}) as journal:
            (journal.folder / "clips").mkdir()  # and killed, before its sync
        with Journal.reopen(journal.folder) as again:
            kept = again.keep_clip("u2", CLIP)
            again.append("utterance", {"utterance": "u2", "clip": kept})
    report = verify(power.log)
    assert (report.problems, report.clips) == ((), 1)


@pytest.mark.parametrize(
    ("happens", "reopen"),
    [(refuse(errno.EIO), False), (die_within, True), (die_of_a_failed_sync, True)],
)
def test_nothing_acknowledged_is_lost_at_many_calls(
    tmp_path: Path, grammar: Grammar, happens: Callable[[Call], Any], reopen: bool
) -> None:
    """Every ninth call of an inspection in turn; ``python tests/faults/disk.py`` tries them all."""
    tried, wrong = at_every_call(tmp_path, grammar, happens, reopen=reopen, step=9)
    assert tried >= 5
    assert wrong == []
