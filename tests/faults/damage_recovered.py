"""What is recovered of a damaged log, held against what was written."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from damage_logs import Original

from voicelog.domain.entry import Inspection
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Grade
from voicelog.domain.recovery import CHANGES_LOST, CLIP_LOST, DENIED, LEFT_OUT, RECOVERED
from voicelog.errors import VoicelogError
from voicelog.journal.reading import read_log
from voicelog.runtime.damaged import Plan, plan_recovery
from voicelog.runtime.logs import open_log
from voicelog.runtime.recovering import recover

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


def recover_into_new(original: Original, folder: Path, outcome: Outcome, *, forged: bool) -> None:
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
    return plan.highest < len(original.lines) and not beyond(folder)


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


def beyond(folder: Path) -> list[str]:
    """Clips and pictures of lines behind the one that a crash may have kept from being written."""
    last = (folder / "journal.jsonl").read_bytes().count(b"\n")
    found = [
        path.name for path in folder.rglob("[up]*.*") if path.parent.name in ("clips", "photos")
    ]
    return [name for name in found if int(re.findall(r"\d+", name)[0]) > last + 1]
