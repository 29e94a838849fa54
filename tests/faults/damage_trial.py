"""One damaged log: is the damage named, is nothing read that was not written, what is recovered."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from damage_logs import Original

from voicelog.domain.entry import Inspection
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Grade
from voicelog.domain.recovery import CHANGES_LOST, CLIP_LOST, DENIED, LEFT_OUT, RECOVERED
from voicelog.domain.utterance import KeptClip
from voicelog.errors import InputFault, VoicelogError
from voicelog.journal.clips import read_clip
from voicelog.journal.grammar import kept_grammar
from voicelog.journal.reading import read_log
from voicelog.runtime.checked_log import verify
from voicelog.runtime.damaged import Plan, is_damaged, plan_recovery
from voicelog.runtime.logs import open_log
from voicelog.runtime.recovering import recover

_NAMES = re.compile(
    r"\b[Ll]ines? \d|clips/|photos/|grammar/|grammar was in force|There is no log|id '"
)
_CHANGES = ("changes", CHANGES_LOST, DENIED)
_NO_DANGER = "no-danger-found-where-examined"


@dataclass(slots=True)
class Outcome:
    """What came of one damaged log.

    Args:
        named: the check, or what opens the log, says that it is damaged and where.
        whole: how many of the written lines still stand in the file, byte for byte.
        recovered: how many of the facts are in the new log; None where nothing was to recover.
        trusted: facts in it that were altered, which nothing could show; the new log says so.
        wrong: what should not have come of it, one sentence each.
    """

    named: bool = False
    whole: int = 0
    recovered: int | None = None
    trusted: int = 0
    wrong: list[str] = field(default_factory=list)


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
    shows = shows or bool(_beyond(folder)) or (forged and _signed(original))
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
            _recover(original, folder, outcome, forged=forged)
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


def _beyond(folder: Path) -> list[str]:
    """Clips and pictures of lines behind the one that a crash may have kept from being written."""
    last = (folder / "journal.jsonl").read_bytes().count(b"\n")
    found = [
        path.name for path in folder.rglob("[up]*.*") if path.parent.name in ("clips", "photos")
    ]
    return [name for name in found if int(re.findall(r"\d+", name)[0]) > last + 1]


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


def _recover(original: Original, folder: Path, outcome: Outcome, *, forged: bool) -> None:
    """Into a new log beside it; a refusal stands where no line of the log is left."""
    target = folder.parent / "new"
    outcome.recovered = 0
    try:
        plan = plan_recovery(folder)
        new = recover(plan, target)
    except VoicelogError as fault:
        if outcome.whole:
            outcome.wrong.append(f"nothing is recovered: {fault.message}")
        return
    try:
        if new.check.problems:
            outcome.wrong.append(f"the new log is damaged: {new.check.problems[0]}")
        if new.trouble and not plan.grammar.problems:
            outcome.wrong.append(f"the new log does not open: {new.trouble}")
        facts = read_log(new.folder).facts
        claimed = list(_claimed(original, facts, outcome))
        outcome.wrong += [] if forged else claimed
        if not new.trouble:
            outcome.wrong += _softened(
                original, new.folder, cut=_cut_unseen(original, folder, plan)
            )
    finally:
        shutil.rmtree(target)


def _claimed(original: Original, facts: tuple[Fact, ...], outcome: Outcome) -> Iterator[str]:
    """Every fact of the new log is one of the old one; what was altered is named as on trust."""
    told = facts[0].body[RECOVERED]
    lost = told.get("lost", ())
    known = {fact.seq: fact for fact in original.facts}
    outcome.recovered = 1 not in lost
    for fact in facts[1:]:
        if fact.type == LEFT_OUT:
            continue
        if fact.seq in known and _fits(known[fact.seq], fact):
            outcome.recovered += 1
        elif fact.seq in told.get("on_trust", ()):
            outcome.trusted += 1
        else:
            yield f"the new log's line {fact.seq} was never written"


def _fits(old: Fact, new: Fact) -> bool:
    """Whether a fact is the old one, maybe with what no longer holds under another name."""
    then, now = _changes(old, "changes"), _changes(new, "changes")
    whole = now <= then <= now | _changes(new, CHANGES_LOST)
    return whole and (old.at, old.offset_s, _rest(old)) == (new.at, new.offset_s, _rest(new))


def _changes(fact: Fact, key: str) -> set[str]:
    return {json.dumps(change, sort_keys=True) for change in fact.body.get(key, ())}


def _rest(fact: Fact) -> dict[str, Any]:
    """All that a line says besides its changes."""
    named = {("clip" if key == CLIP_LOST else key): value for key, value in fact.body.items()}
    return {key: value for key, value in named.items() if key not in _CHANGES}


def _cut_unseen(original: Original, folder: Path, plan: Plan) -> bool:
    """Whether lines are gone at the end, and no clip or picture of them lies there to show it."""
    return plan.highest < len(original.lines) and not _beyond(folder)


def _softened(original: Original, folder: Path, *, cut: bool) -> Iterator[str]:
    """Nothing unsafe is less than that in the new log, unless it says that lines are lost."""
    opened = open_log(folder)
    now, then = opened.inspection, original.inspection
    if cut:
        return
    if then.verdict.drive == "do-not-drive" and now.verdict.drive == _NO_DANGER:
        yield "do-not-drive became no danger found"
    if now.lost and now.verdict.drive == _NO_DANGER:
        yield "no danger is found although lines are lost"
    milder = sorted(_unsafe(then) - _unsafe(now))
    if milder and not now.lost:
        yield f"{milder[0]} is not unsafe any more, and no line is lost"
    if any(fact.type == "signed" for fact in opened.log.facts):
        yield "the new log counts as signed"


def _unsafe(inspection: Inspection) -> set[str]:
    return {f.entry.id for f in inspection.live if f.grade is Grade.UNSAFE}


def _state(folder: Path) -> dict[str, tuple[bytes, int]]:
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {str(path): (path.read_bytes(), path.stat().st_mtime_ns) for path in files}
