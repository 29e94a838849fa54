"""What can be recovered of a damaged log; nothing is written, and the log is only read."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.photo import PHOTO
from voicelog.domain.recovery import RECOVERED
from voicelog.errors import LockedFault, LogFault
from voicelog.journal.belonging import Evidence
from voicelog.journal.chain import all_of, open_journal
from voicelog.journal.lines import decode
from voicelog.journal.lock import is_locked
from voicelog.journal.lost_end import beyond
from voicelog.journal.naming import CLIPS, PHOTOS, opened_by_name
from voicelog.journal.own_files import LONGEST, own_file, own_files, sha256_of
from voicelog.journal.pieces import Asked, Found, Rest, Restored
from voicelog.journal.restoring import restored
from voicelog.journal.salvage import Progress, salvaged
from voicelog.journal.storage import reading
from voicelog.journal.vouching import Vouched, vouched
from voicelog.runtime.checked_log import verify
from voicelog.runtime.old_grammar import OldGrammar, old_grammar
from voicelog.runtime.recovered_line import first_line, origin
from voicelog.tongue import worded


class Files:
    """The clips and pictures of a log, each read once.

    Args:
        folder: the log's.

    Attributes:
        told: names that a line of the new log tells of.
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._known = folder, dict[str, str]()
        self.told: set[str] = set()

    def prove(self, line: Found) -> bool:
        """Whether a line tells of a file that lies there: then it is a line of this log."""
        body = decode(line.data, line.number).body
        told = body if line.type == PHOTO else body.get("clip")
        file = told.get("file") if isinstance(told, Mapping) else None
        return isinstance(file, str) and self._has(file, dict(told or {}).get("sha256"))

    def is_whole(self, name: str, sha256: object) -> bool:
        """Whether a file is there as it was kept; it is told of then."""
        whole = self._has(name, sha256)
        if whole:
            self.told.add(name)
        return whole

    def _has(self, name: str, sha256: object) -> bool:
        within = name.partition("/")[0]
        path = own_file(self._folder, name, within) if within in (CLIPS, PHOTOS) else None
        if path is None:
            return False
        if name not in self._known:
            with reading(self._folder):
                self._known[name] = sha256_of(path)
        return self._known[name] == sha256

    def all(self) -> Iterator[str]:
        """Their names; a file larger than any of a log is none of it."""
        with reading(self._folder):
            for within in (CLIPS, PHOTOS):
                for path in own_files(self._folder, within):
                    if path.lstat().st_size <= LONGEST:
                        yield f"{within}/{path.name}"


@dataclass(frozen=True, slots=True)
class Plan:
    """What would be recovered.

    Args:
        folder: the damaged log.
        lines: how many lines its journal has, however damaged.
        taken: those that belong to the log.
        told: what becomes of them.
        grammar: the words, map and rules.
        opened: the new log's first line.
        left: what is left out, in the order of the file.
        files: its clips and pictures.
        orphans: those that no line tells of any more.
        end: the number of the last line that the log is known to have had.
    """

    folder: Path
    lines: int
    taken: Vouched
    told: Restored
    grammar: OldGrammar
    opened: Fact
    left: tuple[Rest, ...]
    files: Files
    orphans: tuple[str, ...]
    end: int = 1

    def facts(self) -> Iterator[Fact]:
        """The lines of the new log behind its first one."""
        return restored(self.taken, self.opened, _asked(self.files), Restored(), self.end)

    @property
    def kept(self) -> int:
        """How many of the old lines are in the new log."""
        return self.told.kept + (1 in self.taken.lines)

    @property
    def highest(self) -> int:
        """The highest number of a line that is known of: so many lines the log had, or more."""
        return max(self.end, *self.taken.lines, 1)

    @property
    def put_right(self) -> tuple[int, ...]:
        """Numbers of the lines that had to be put right to be read."""
        return tuple(seq for seq, line in sorted(self.taken.lines.items()) if line.fix)

    @property
    def missing(self) -> tuple[Rest, ...]:
        """What is left out and nowhere else in the log."""
        return tuple(rest for rest in self.left if not rest.known)


def is_damaged(folder: Path) -> bool:
    """False for a log that is as it was written, but for what a crash may leave.

    Raises:
        InputFault: there is no log, or it cannot be read.
    """
    try:
        return not verify(folder).ok
    except LogFault:  # a version that turned over
        return True


def plan_recovery(folder: Path, *, map_id: str = "", progress: Progress = lambda *_: None) -> Plan:
    """What can be recovered of a log.

    Args:
        folder: the log's.
        map_id: the map that was in force, where the log cannot tell.
        progress: told how many bytes are read, then how many lines are looked through.

    Raises:
        InputFault: there is no log, or it cannot be read.
        LockedFault: somebody is writing it.
        NewerLog: a later program wrote it.
        LogFault: nothing can be recovered, or nobody knows with which map it was made.
    """
    with open_journal(folder) as file:
        _refuse_writers(folder)
        text = all_of(file)
    salvage = salvaged(text, progress)
    files = Files(folder)
    taken = vouched(salvage, Evidence(files.prove, opened_by_name(folder.resolve().name)))
    if not taken.lines and taken.opening is None:
        raise LogFault(
            worded("Nothing in the journal can be recovered"),
            worded("Put it back from a copy, or have its clips heard again: voicelog hear CLIP..."),
        )
    grammar = old_grammar(folder, _said(taken), map_id, sure=_is_vouched_for(taken))
    told, begin, highest = Restored(), first_line(taken, grammar), max(taken.lines, default=1)
    end = max(highest, beyond(files.all(), highest).last)
    for fact in restored(taken, begin, _asked(files), told, end):
        progress(fact.seq, end)
    left = tuple(sorted((*taken.left, *told.left), key=lambda rest: rest.number))
    orphans = tuple(name for name in files.all() if name not in files.told)
    plan = Plan(folder, salvage.lines, taken, told, grammar, begin, left, files, orphans, end)
    said = origin(_said(taken), folder, hashlib.sha256(text).hexdigest(), _figures(plan))
    return replace(plan, opened=replace(begin, body={**begin.body, RECOVERED: said}))


def _asked(files: Files) -> Asked:
    from voicelog.export.line_check import misfit  # pydantic's models start slowly

    return Asked(files.is_whole, misfit)


def _refuse_writers(folder: Path) -> None:
    if is_locked(folder):
        raise LockedFault(
            worded("The log {folder} is being written by another voicelog", folder=folder.name),
            worded("Close it there first; then what can be recovered is all of it."),
        )


def _said(taken: Vouched) -> Mapping[str, Any]:
    """What the line that opened the log said, as well as it can be read; empty where it cannot."""
    line = taken.lines.get(1) or taken.opening
    return {} if line is None else decode(line.data, 1).body


def _is_vouched_for(taken: Vouched) -> bool:
    """Whether the line that opened the log is as it was written."""
    return 1 in taken.lines and 1 not in taken.on_trust


_LISTED = 200
"""Pieces left out that the first line lists; all of them lie beside it."""


def _figures(plan: Plan) -> dict[str, Any]:
    """What the first line says of the recovery; what is empty is left out."""
    told = plan.told
    figures = {
        "lines": plan.lines,
        "kept": plan.kept,
        "left_out": [{"line": rest.number, "why": rest.why} for rest in plan.missing[:_LISTED]],
        "lost": [*(() if 1 in plan.taken.lines else (1,)), *told.lost][:_LISTED],
        "on_trust": sorted(plan.taken.on_trust),
        "put_right": list(plan.put_right[:_LISTED]),
        "changes_lost": told.cut[:_LISTED],
        "clips_lost": told.silent[:_LISTED],
        "photos_lost": told.pictures[:_LISTED],
        "grammar": list(plan.grammar.problems),
    }  # fmt: skip
    return {name: value for name, value in figures.items() if value != []}
