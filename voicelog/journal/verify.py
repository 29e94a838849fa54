"""Checking a log against itself: lines, chain, ids, clips, grammar copy; all faults, not the first.

What no check can show: a log cut after a whole line reads as a shorter log, and a change within the
last line that leaves it whole has no later line to contradict it.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.errors import LogFault
from voicelog.journal.chain import Chain, Lines, open_journal
from voicelog.journal.grammar import grammar_problems
from voicelog.journal.lines import NewerLog, decode
from voicelog.journal.naming import CLIPS, lies_inside, utterance_number
from voicelog.journal.storage import reading


@dataclass(frozen=True, slots=True)
class Report:
    """What a check found.

    Args:
        lines: whole lines in the journal.
        clips: clips that are there as they were kept.
        problems: damage, one sentence each.
        notices: what a crash may leave behind and what harms nothing, one sentence each.
    """

    lines: int
    clips: int
    problems: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """True when nothing is damaged."""
        return not self.problems


@dataclass(slots=True)
class _Seen:
    """What a pass over the lines gathered."""

    lines: int = 0
    problems: list[str] = field(default_factory=list)
    notices: list[str] = field(default_factory=list)
    clips: dict[str, tuple[str, object]] = field(default_factory=dict)  # file to utterance, SHA-256
    ids: Counter[str] = field(default_factory=Counter)
    erased: set[str] = field(default_factory=set)  # utterances


def verify(folder: Path) -> Report:
    """Checks all of a log.

    Raises:
        InputFault: when there is no log, or it cannot be read.
        NewerLog: when a newer version wrote it, so that it cannot be checked.
    """
    seen = _Seen()
    _check_lines(folder, seen)
    repeated = [name for name, times in seen.ids.items() if times > 1]
    seen.problems += [f"The id {name!r} was given more than once" for name in repeated]
    with reading(folder):
        whole = sum(_clip_is_whole(folder, file, seen) for file in seen.clips)
        seen.notices += _orphans(folder, seen)
    return Report(seen.lines, whole, tuple(seen.problems), tuple(seen.notices))


def _check_lines(folder: Path, seen: _Seen) -> None:
    """Passes over the lines; after damage it goes on with the next line."""
    chain = Chain()
    with open_journal(folder) as file:
        lines = Lines(file)
        for line in lines:
            chain = _check_line(folder, chain, line, seen)
    seen.lines = chain.lines
    if not chain.lines:
        seen.problems.append("Line 1 was never finished, so the log holds nothing")
    elif lines.torn:
        seen.notices.append(
            f"Line {chain.lines + 1} is torn after {len(lines.torn)} bytes; it was never"
            " acknowledged, and is set aside when the log is next written to"
        )


def _check_line(folder: Path, chain: Chain, line: bytes, seen: _Seen) -> Chain:
    try:
        fact = decode(line, chain.lines + 1)
    except NewerLog:
        raise
    except LogFault as fault:
        seen.problems.append(fault.message)
        return chain.past(line)
    try:
        chain.check(fact)
    except LogFault as fault:
        seen.problems.append(fault.message)
    if fact.type == "opened":
        seen.problems += grammar_problems(folder, fact)
    _gather(fact, seen)
    return chain.after(fact, line)


def _gather(fact: Fact, seen: _Seen) -> None:
    if fact.type not in ("utterance", "clip-erased"):
        return
    utterance = fact.body.get("utterance")
    if utterance_number(utterance) is None:
        seen.problems.append(f"Line {fact.seq} does not say which utterance it is about")
    elif fact.type == "clip-erased":
        seen.erased.add(str(utterance))
    else:
        seen.ids.update([str(utterance), *_entry_ids(fact.body.get("changes"))])
        _gather_clip(fact, str(utterance), seen)


def _entry_ids(changes: object) -> Iterator[str]:
    for change in changes if isinstance(changes, list) else ():
        entry = change.get("entry") if isinstance(change, Mapping) else None
        if isinstance(entry, Mapping) and isinstance(entry.get("id"), str):
            yield entry["id"]


def _gather_clip(fact: Fact, utterance: str, seen: _Seen) -> None:
    clip: Any = fact.body.get("clip")
    if clip is None:  # typed, or its sound was not wanted
        return
    file = clip.get("file") if isinstance(clip, Mapping) else None
    if not lies_inside(file) or not str(file).startswith(f"{CLIPS}/"):
        seen.problems.append(f"Line {fact.seq} does not say where its clip is")
    elif file in seen.clips:
        seen.problems.append(f"Line {fact.seq} has the clip of another utterance")
    else:
        seen.clips[str(file)] = (utterance, clip.get("sha256"))


def _clip_is_whole(folder: Path, file: str, seen: _Seen) -> bool:
    """True when a clip is as it was kept; says what is wrong with one that should be there."""
    utterance, sha256 = seen.clips[file]
    path = folder / file
    if utterance in seen.erased:
        if path.exists():
            seen.notices.append(f"{file} is still there, although a fact says that it was erased")
        return False
    if not path.is_file():
        seen.problems.append(f"{file} of {utterance} is missing")
        return False
    with path.open("rb") as sound:
        whole = hashlib.file_digest(sound, "sha256").hexdigest() == sha256
    if not whole:
        seen.problems.append(f"{file} of {utterance} is not the sound that was kept")
    return whole


def _orphans(folder: Path, seen: _Seen) -> list[str]:
    found = sorted(path.name for path in (folder / CLIPS).glob("*"))
    return [
        f"{f'{CLIPS}/{name}'!r} belongs to no line; a crash can leave such a file"
        for name in found
        if f"{CLIPS}/{name}" not in seen.clips
    ]
