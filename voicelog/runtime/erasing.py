"""Sound and whole inspections erased for good: what is to go, and what then stands in the log.

The line goes first and the file after it: whatever stops the program between the two, the log says
what was wanted, and doing it again takes away what is left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from voicelog.domain.fact import Fact
from voicelog.domain.inert import inert
from voicelog.errors import UsageFault
from voicelog.journal.naming import CLIPS, is_given, utterance_number
from voicelog.journal.own_files import erase_file, own_file, own_files
from voicelog.journal.storage import storing
from voicelog.runtime.exports_about import joined_inside
from voicelog.runtime.review import Review
from voicelog.tongue import worded

ERASED = "clip-erased"
"""The type of a line that says of an utterance that its sound was erased."""

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Going:
    """What is to be erased.

    Args:
        lines: utterances whose erasing is yet to be written down.
        files: what is to be taken away, in the log's folder.
        already: utterances whose sound is gone.
        silent: utterances that never had any.
    """

    lines: tuple[str, ...]
    files: tuple[Path, ...]
    already: tuple[str, ...] = ()
    silent: tuple[str, ...] = ()


@dataclass(slots=True)
class Gone:
    """What was erased.

    Args:
        files: how many files are gone.
        kept_bytes: names of those that could not be overwritten before they were taken away.
    """

    files: int = 0
    kept_bytes: list[str] = field(default_factory=list)


def sound_of(review: Review, names: Sequence[str]) -> Going:
    """The sound of some utterances; whatever holds all sound of the log goes as well.

    Args:
        review: the log.
        names: ids of utterances, or of entries that came of them.

    Raises:
        UsageFault: there is no such utterance.
    """
    kept = _kept(review.facts)
    wanted = dict.fromkeys(_utterance(review, name, kept) for name in names)
    return _going(review, list(wanted), kept)


def all_sound(review: Review) -> Going:
    """All sound that there is in a log, whether a line tells of it or not; what somebody else put
    there stays.
    """
    kept = _kept(review.facts)
    going = _going(review, list(kept), kept)
    known = set(going.files)
    there = (path for path in own_files(review.folder, CLIPS) if is_given(path.name, CLIPS))
    stray = (path for path in there if path not in known)
    return Going(going.lines, (*going.files, *stray), going.already)


def erase_sound(
    review: Review, going: Going, *, why: str = "", progress: Progress = lambda *_: None
) -> Gone:
    """Writes down that sound is erased, and erases it.

    Raises:
        LockedFault, StorageFault: the log can only be read, or the disk refuses; whatever is gone
            by then has its line, and the same call may be tried again.
    """
    for name in going.lines:
        body = {"utterance": name, "by": review.by, "why": why.strip()}
        review.note(ERASED, {key: value for key, value in body.items() if value})
    return erase_files(review.folder, going.files, progress)


def erase_files(folder: Path, files: Sequence[Path], progress: Progress = lambda *_: None) -> Gone:
    """Overwrites files and takes them away.

    Raises:
        StorageFault: one of them cannot be taken away.
    """
    gone = Gone()
    for done, path in enumerate(files, start=1):
        name = path.relative_to(folder).as_posix()
        with storing(worded("That {name} is gone", name=inert(name))):
            if not erase_file(path):
                gone.kept_bytes.append(name)
        gone.files += 1
        progress(done, len(files))
    return gone


def _kept(facts: Sequence[Fact]) -> dict[str, str]:
    """Utterances to the file of their sound; empty where it was typed, or not kept."""
    kept: dict[str, str] = {}
    for fact in facts:
        name = fact.body.get("utterance")
        if utterance_number(name) is None or fact.type not in ("utterance", "revised"):
            continue
        clip = fact.body.get("clip")
        kept[str(name)] = str(clip.get("file", "")) if isinstance(clip, dict) else ""
    return kept


def _utterance(review: Review, name: str, kept: dict[str, str]) -> str:
    if name in kept:
        return name
    if name.startswith("e"):
        return review.finding(name).entry.utterance
    raise UsageFault(
        worded("The log has no utterance {name}", name=repr(inert(name, 40))),
        worded("voicelog review LOG --plain names them; an entry's id such as e7.1 does as well."),
    )


def _going(review: Review, names: Sequence[str], kept: dict[str, str]) -> Going:
    said = {str(fact.body.get("utterance")) for fact in review.facts if fact.type == ERASED}
    lines, files = list[str](), list[Path]()
    already, silent = list[str](), list[str]()
    for name in names:
        own = list(_files_of(review.folder, name, kept.get(name, "")))
        files += own
        if name in said:
            already += [] if own else [name]
        elif kept.get(name):
            lines.append(name)
        elif not own:
            silent.append(name)
    joined = joined_inside(review.folder) if lines or files else ()
    return Going(tuple(lines), (*files, *joined), tuple(already), tuple(silent))


def _files_of(folder: Path, name: str, file: str) -> Iterator[Path]:
    """The sound of an utterance, and what a crash or a second try left of it."""
    own = own_file(folder, file, CLIPS) if file else None
    if own is not None:
        yield own
    for path in own_files(folder, CLIPS):
        if path != own and path.name.startswith(f"{name}.") and is_given(path.name, CLIPS):
            yield path
