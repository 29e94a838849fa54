"""A damaged log's lines, clips and pictures written into a new log; the old one stays as it is."""

from __future__ import annotations

import base64
import json
import shutil
from collections.abc import Iterator
from contextlib import ExitStack, suppress
from dataclasses import dataclass
from itertools import chain, count
from pathlib import Path

from voicelog.config.cache import checked_folder
from voicelog.errors import UsageFault, VoicelogError
from voicelog.findings.ledger import fold
from voicelog.journal.append_file import AppendFile
from voicelog.journal.grammar import copy_grammar, kept_grammar
from voicelog.journal.naming import CLIPS, JOURNAL, PHOTOS
from voicelog.journal.own_files import copy_file
from voicelog.journal.pieces import Rest
from voicelog.journal.reading import Report, verify
from voicelog.journal.restoring import chained
from voicelog.journal.salvage import Progress
from voicelog.journal.storage import (
    PRIVATE_FOLDER,
    make_folder,
    storing,
    sync_folder,
    write_file,
)
from voicelog.runtime.checked_log import checked_log
from voicelog.runtime.damaged import Plan
from voicelog.runtime.going_on import rails_then
from voicelog.tongue import in_english, worded

LEFT_OUT_FILE = "left-out.jsonl"
"""What could not be taken over, beside the new log's journal: one piece a line, byte for byte."""

_PIECE = 1024 * 1024
"""Bytes that are written at once."""


@dataclass(frozen=True, slots=True)
class Recovered:
    """A new log.

    Args:
        folder: where it lies.
        check: what a check of it found.
        trouble: why it cannot be opened all the same; empty where it can.
    """

    folder: Path
    check: Report
    trouble: str = ""


def recover(
    plan: Plan, parent: Path | None = None, progress: Progress = lambda *_: None
) -> Recovered:
    """Writes what can be recovered into a new folder.

    Args:
        plan: what that is.
        parent: where the folder goes, made if need be; beside the damaged log when None.
        progress: told how many of the clips and pictures are copied.

    Raises:
        UsageFault: the folder would lie in the damaged log.
        InputFault: a clip cannot be read.
        StorageFault: the disk refuses; nothing is left of the folder then.
    """
    old = plan.folder.resolve()
    parent = old.parent if parent is None else parent
    if parent.resolve().is_relative_to(old):
        raise UsageFault(
            worded("The new log would lie in the damaged one, which stays as it is"),
            worded("Name another folder with --into."),
        )
    with storing(worded("The recovered log")), ExitStack() as undo:
        folder = _new_folder(parent, old.name)
        undo.callback(shutil.rmtree, folder, ignore_errors=True)
        copy_grammar(folder, plan.grammar.files)
        _copy_files(plan, folder, progress)
        _write_left_out(plan.left, folder)
        _write_journal(plan, folder)
        undo.pop_all()
    return Recovered(folder, verify(folder), _trouble(folder))


def _new_folder(parent: Path, name: str) -> Path:
    parent.mkdir(mode=PRIVATE_FOLDER, parents=True, exist_ok=True)
    names = chain([f"{name}-recovered"], (f"{name}-recovered-{n}" for n in count(2)))
    for name in names:
        with suppress(FileExistsError):
            make_folder(parent / name)
            break
    return parent / name


def _copy_files(plan: Plan, folder: Path, progress: Progress) -> None:
    """Clips and pictures, those too that no line tells of any more."""
    names = list(plan.files.all())
    for done, name in enumerate(names, start=1):
        target = folder / name
        if not target.parent.is_dir():
            make_folder(target.parent)
        copy_file(plan.folder / name, target)
        progress(done, len(names))
    for within in (CLIPS, PHOTOS):
        if (folder / within).is_dir():
            sync_folder(folder / within)


def _write_left_out(left: tuple[Rest, ...], folder: Path) -> None:
    if left:
        write_file(folder / LEFT_OUT_FILE, b"".join(map(_piece, left)))


def _piece(rest: Rest) -> bytes:
    """A piece as a line: as text where it is plain text, else in base 64."""
    try:
        text, key = rest.data.decode("ascii"), "text"
    except UnicodeDecodeError:
        text = ""
    if not text.isprintable() or not text:
        text, key = base64.b64encode(rest.data).decode("ascii"), "base64"
    return (
        json.dumps(in_english({"line": rest.number, "why": rest.why, key: text})).encode() + b"\n"
    )


def _write_journal(plan: Plan, folder: Path) -> None:
    """Last of all: a folder is a log once its journal is there."""
    draft = folder / f"{JOURNAL}.part"
    file = AppendFile(draft, new=True)
    try:
        size = 0
        for piece in _pieces(chained(plan.opened, plan.facts())):
            file.append(piece, size=size)
            size += len(piece)
    finally:
        file.close()
    draft.replace(folder / JOURNAL)
    sync_folder(folder)


def _pieces(lines: Iterator[bytes]) -> Iterator[bytes]:
    """The lines in pieces that are worth a call of the system."""
    piece = bytearray()
    for line in lines:
        piece += line
        if len(piece) >= _PIECE:
            yield bytes(piece)
            piece.clear()
    yield bytes(piece)


def _trouble(folder: Path) -> str:
    """Why the new log cannot be opened; empty where it can."""
    try:
        facts = checked_log(folder).facts
        opened = facts[0].body
        grammar = checked_folder(str(opened["map"]), kept_grammar(folder, facts[0]))
        fold(facts, grammar.zone_map, grammar.rules, rails_then(opened))
    except VoicelogError as fault:
        return fault.message
    return ""
