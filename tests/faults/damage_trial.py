"""One damaged log: is the damage named, is nothing read that was not written, what is recovered."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from damage_logs import Original
from damage_recovered import Outcome, beyond, recover_into_new

from voicelog.domain.utterance import KeptClip
from voicelog.errors import InputFault, VoicelogError
from voicelog.journal.clips import read_clip
from voicelog.journal.grammar import kept_grammar
from voicelog.journal.reading import read_log
from voicelog.runtime.checked_log import verify
from voicelog.runtime.damaged import is_damaged
from voicelog.runtime.logs import open_log

_NAMES = re.compile(
    r"\b[Ll]ines? \d|clips/|photos/|grammar/|grammar was in force|There is no log|id '"
)


def tried(
    original: Original, folder: Path, *, shows: bool, tail: bool = False, forged: bool = False
) -> Outcome:
    """Checks, opens and recovers a damaged log.

    Args:
        original: the log as it was written.
        folder: the damaged copy.
        shows: the damage can be seen; where it cannot, only the reader is asked.
        tail: the last line may say something else, which nothing can show.
        forged: so may any line, unless it was signed.
    """
    shows = shows or bool(beyond(folder)) or (forged and _signed(original))
    outcome = Outcome()
    before = _state(folder)
    text = (folder / "journal.jsonl").read_bytes()
    outcome.whole = sum(line[:-1] in text for line in original.lines)
    try:
        outcome.named = _named(folder)
        if shows and not outcome.named:
            outcome.wrong.append("nothing names the damage")
        outcome.wrong += _read(original, folder, tail=tail, forged=forged and not _signed(original))
        outcome.wrong += _played(original, folder)
        if is_damaged(folder):
            recover_into_new(original, folder, outcome, forged=forged)
    except VoicelogError:
        raise
    except Exception as fault:  # a defect is what is looked for
        outcome.wrong.append(f"a defect: {type(fault).__name__}: {fault}")
    if _state(folder) != before:
        outcome.wrong.append("the damaged log was written to")
    return outcome


def _named(folder: Path) -> bool:
    """Whether a check says that something is the matter, and where."""
    try:
        report = verify(folder)
    except VoicelogError as fault:
        return bool(_NAMES.search(str(fault)))
    told = [*report.problems, *(n for n in report.notices if "torn" in n or "still there" in n)]
    return any(_NAMES.search(one) for one in told)


def _signed(original: Original) -> bool:
    return any(fact.type == "signed" for fact in original.facts)


def _read(original: Original, folder: Path, *, tail: bool, forged: bool) -> Iterator[str]:
    """What is read is what was written, from the first line on, or a refusal."""
    try:
        log = read_log(folder)
        kept_grammar(folder, log.facts[0])
    except VoicelogError:
        return
    many = len(log.facts) - (1 if tail else 0)
    if log.facts[:many] != original.facts[:many] and not forged:
        yield "the reader gives facts that were never written"
    if not log.torn and len(log.facts) < len(original.facts):
        yield from _shorter(folder)


def _shorter(folder: Path) -> Iterator[str]:
    """A log that lacks its end, without a sign of it, may not pass for a finished one."""
    opened = open_log(folder)
    closed = [fact for fact in opened.log.facts if fact.type == "closed"]
    if not closed and "nothing was lost" in _told(folder):
        yield "an unfinished log is called whole without a word about its end"


def _told(folder: Path) -> str:
    from voicelog.cli.logs import _whole

    report = verify(folder)
    return _whole(report) if report.ok else ""


def _played(original: Original, folder: Path) -> Iterator[str]:
    """A clip plays as it was kept, or is refused."""
    for fact in original.facts:
        clip = fact.body.get("clip")
        if not isinstance(clip, Mapping) or _same(original.folder, folder, clip["file"]):
            continue
        try:
            read_clip(folder, KeptClip(clip["file"], 1.0, 0.0, clip["sha256"]))
        except InputFault:
            continue
        yield f"{clip['file']} plays although it is not what was kept"


def _same(one: Path, other: Path, name: str) -> bool:
    files = one / name, other / name
    return all(f.exists() for f in files) and files[0].read_bytes() == files[1].read_bytes()


def _state(folder: Path) -> dict[str, tuple[bytes, int]]:
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {str(path): (path.read_bytes(), path.stat().st_mtime_ns) for path in files}
