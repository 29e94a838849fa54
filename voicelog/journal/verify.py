"""Checking a log against itself: lines, chain, ids, clips, photos, grammar copy, signatures; all
faults.

What no check can show: a log cut after a whole line reads as a shorter log, unless clips or pictures
of later lines lie there still, and a change within the last line that leaves it whole has no later
line to contradict it. A copy of the seal that was noted down elsewhere contradicts both, as far as the
log was signed.
"""

from __future__ import annotations

import os
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from voicelog.errors import LogFault
from voicelog.journal.chain import Chain, Lines, open_journal
from voicelog.journal.following import Entries
from voicelog.journal.gathering import Seen
from voicelog.journal.grammar import grammar_problems
from voicelog.journal.lines import NewerLog, decode
from voicelog.journal.lost_end import beyond, names_in
from voicelog.journal.naming import CLIPS, PHOTOS
from voicelog.journal.own_files import own_file, sha256_of
from voicelog.journal.seal import Seal, Sealing
from voicelog.journal.storage import reading
from voicelog.tongue import Worded, to_word, worded


@dataclass(frozen=True, slots=True)
class Report:
    """What a check found.

    Args:
        lines: whole lines in the journal.
        clips: clips that are there as they were kept.
        problems: damage, one sentence each.
        notices: what a crash may leave behind, what harms nothing, who signed, and what was changed
            after that, one sentence each.
        seal: SHA-256 of the newest line whose signature holds, without its line feed; to be noted
            down elsewhere. Empty where nobody signed.
        photos: pictures that are there as they were kept.
        lost: lines that could not be recovered, or not in full, where it was made of a damaged log.
        recovered: it was made of a damaged log.
        finished: it says that the inspection was finished, so that no line is missing at its end.
    """

    lines: int
    clips: int
    problems: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    seal: str = ""
    photos: int = 0
    lost: int = 0
    recovered: bool = False
    finished: bool = False

    @property
    def ok(self) -> bool:
        """True when nothing is damaged."""
        return not self.problems


def verify(folder: Path) -> Report:
    """Checks all of a log.

    Raises:
        InputFault: when there is no log, or it cannot be read.
        NewerLog: when a newer version wrote it, so that it cannot be checked.
    """
    seen = Seen()
    with reading(folder):
        files = names_in(folder)
    chain = _check_lines(folder, seen)
    end = chain.seq
    seen.problems += filter(None, (beyond(files, end).told(end),) if end else ())
    repeated = [name for name, times in seen.ids.items() if times > 1]
    seen.problems += [
        worded("The id {name} was given more than once", name=repr(name)) for name in repeated
    ]
    with reading(folder):
        whole = sum(_clip_is_whole(folder, file, seen) for file in seen.clips)
        pictures = sum(_photo_is_whole(folder, file, seen) for file in seen.photos)
        told = _LOST if seen.lost else _CRASH
        seen.notices += _orphans(folder / CLIPS, seen.clips, told)
        seen.notices += _orphans(folder / PHOTOS, seen.photos, told)
    seen.notices += (*seen.lacking(), *seen.later())
    return Report(
        chain.lines, whole, tuple(seen.problems), tuple(seen.notices), seen.seal, pictures, len(seen.lost), recovered=seen.recovered,
        finished=seen.finished,
    )  # fmt: skip


def _check_lines(folder: Path, seen: Seen) -> Chain:
    """Passes over the lines, after damage on to the next; all of them."""
    chain, sealing, entries = Chain(), Sealing(), Entries()
    with open_journal(folder) as file:
        lines = Lines(file)
        try:
            for line in lines:
                chain = _check_line(folder, chain, line, sealing.seal, seen, entries)
                sealing.take(line)
        except NewerLog:
            raise
        except LogFault as fault:  # what lies behind cannot be parted into lines
            seen.problems.append(fault.message)
    if not chain.lines:
        seen.problems.append(worded("Line 1 was never finished, so the log holds nothing"))
    elif lines.torn:
        seen.notices.append(
            worded(
                "Line {line} is torn after {count} bytes; it was never acknowledged, and is set aside"
                " when the log is next written to",
                line=chain.lines + 1,
                count=len(lines.torn),
            )
        )
    return chain


def _check_line(
    folder: Path, chain: Chain, line: bytes, before: Seal, seen: Seen, entries: Entries
) -> Chain:
    try:
        fact = decode(line, chain.lines + 1)
    except NewerLog:
        raise
    except LogFault as fault:
        seen.problems.append(fault.message)
        entries.whole = False
        return chain.past(line)
    try:
        chain.check(fact)
    except LogFault as fault:
        seen.problems.append(fault.message)
        entries.whole = False
    if fact.type == "opened":
        seen.problems += grammar_problems(folder, fact)
    seen.gather(fact, line, before)
    seen.problems += entries.problems(fact)
    return chain.after(fact, line)


def _clip_is_whole(folder: Path, file: str, seen: Seen) -> bool:
    """True when a clip is as it was kept; says what is wrong with one that should be there."""
    utterance, sha256 = seen.clips[file]
    path = own_file(folder, file, CLIPS)
    if utterance in seen.erased:
        if path is not None:
            told = to_word("{file} is still there, although a fact says that it was erased")
            seen.notices.append(worded(told, file=file))
        return False
    if path is None:
        seen.problems.append(_gone(folder / file, file, utterance))
        return False
    whole = sha256_of(path) == sha256
    if not whole:
        seen.problems.append(
            worded("{file} of {owner} is not the sound that was kept", file=file, owner=utterance)
        )
    return whole


def _photo_is_whole(folder: Path, file: str, seen: Seen) -> bool:
    """True when a picture is as it was kept; says what is wrong with one that should be there."""
    (line, sha256), path = seen.photos[file], own_file(folder, file, PHOTOS)
    if path is None:
        seen.problems.append(_gone(folder / file, file, _line(line)))
        return False
    whole = sha256_of(path) == sha256
    if not whole:
        seen.problems.append(
            worded(
                "{file} of {owner} is not the picture that was kept", file=file, owner=_line(line)
            )
        )
    return whole


def _line(number: int) -> Worded:
    return worded("line {line}", line=number)


def _gone(path: Path, file: str, owner: str) -> Worded:
    """What stands in the place of a file of the log; a link leads to somebody else's."""
    link = os.path.islink(path)  # noqa: PTH114  Path asks whether a name is too long, and raises
    if link:
        return worded("{file} of {owner} is no file of the log, but a link", file=file, owner=owner)
    return worded("{file} of {owner} is missing", file=file, owner=owner)


_CRASH = to_word("{file} belongs to no line; a crash can leave such a file")
_LOST = to_word("{file} belongs to no line; its line may be one that could not be recovered")


def _orphans(folder: Path, known: Collection[str], told: str) -> list[str]:
    found = sorted(f"{folder.name}/{path.name}" for path in folder.glob("*"))
    return [worded(told, file=repr(name)) for name in found if name not in known]
