"""What ``voicelog amend`` prints: every entry touched as it was and as it is, and the verdict."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

import click
from rich.text import Text

from voicelog.cli.lessons import Learnt, learn, lesson_lines, lessons_json
from voicelog.cli.show import VERDICT, console
from voicelog.cli.wording import finding_lines
from voicelog.config.learned_files import For
from voicelog.config.settings import Settings
from voicelog.domain.entry import Finding, Inspection
from voicelog.domain.inert import inert
from voicelog.domain.zone import ZoneMap
from voicelog.export.answer import answer, entry_document
from voicelog.export.json_file import json_text
from voicelog.export.values import known
from voicelog.runtime.bench_log import Done
from voicelog.runtime.review import Review
from voicelog.tongue import worded


@dataclass(frozen=True, slots=True)
class Outcome:
    """One change, and what it made of the log.

    Args:
        done: what was done.
        before: the log as it stood.
        after: the log as it stands.
        by: who did it.
        written: False where it was only tried out.
        learnt: what it taught; None where nothing was to be learned.
    """

    done: Done
    before: Inspection
    after: Inspection
    by: str
    written: bool
    learnt: tuple[Learnt, ...] | None = None

    @property
    def touched(self) -> tuple[tuple[Finding | None, Finding], ...]:
        """Each entry as it was, None for a new one, and as it is."""
        was = {finding.entry.id: finding for finding in self.before.findings}
        return tuple((was.get(now.entry.id), now) for now in self.done.findings)

    def with_lessons(self, review: Review, settings: Settings, *, for_: For, said: Any) -> Outcome:
        """What the change taught, remembered where it was written."""
        before = [was for was, _ in self.touched if was is not None]
        learnt = learn(
            review, settings, self.done, before, for_=for_, said=said, writing=self.written
        )
        return replace(self, learnt=learnt)

    @property
    def verdict(self) -> Mapping[str, tuple[str, str]]:
        """The answers that changed: question to the old and the new one."""
        pairs = {
            question: (getattr(self.before.verdict, name), getattr(self.after.verdict, name))
            for name, question in VERDICT.items()
        }
        return {question: pair for question, pair in pairs.items() if pair[0] != pair[1]}


def print_outcome(outcome: Outcome, zone_map: ZoneMap, *, as_json: bool) -> None:
    """Print it for a program or for a person.

    Raises:
        VoicelogError: what was learned could not be written; the change stands, and is told first.
    """
    if as_json:
        click.echo(json_text(amended_json(outcome)), nl=False)
    else:
        show_amended(outcome, zone_map)
    for one in outcome.learnt or ():
        if one.fault is not None:
            raise one.fault


def show_amended(outcome: Outcome, zone_map: ZoneMap) -> None:
    """Print it for a person; each line can be understood by itself, for screen readers."""
    out = console()
    for was, now in outcome.touched:
        for line in _lines("was:", was, zone_map) if was is not None else ():
            out.print(line)
        for line in _lines("now:" if was is not None else "new:", now, zone_map):
            out.print(line)
    for question, (old, new) in outcome.verdict.items():
        told = worded("{question} was {old}, is {new}", question=worded(question), old=old, new=new)
        out.print(Text(told.replace("-", " "), style="bold"))
    for line in () if outcome.learnt is None else lesson_lines(outcome.learnt):
        out.print(line)
    out.print(Text(_where(outcome), style="dim"))


def amended_json(outcome: Outcome) -> dict[str, Any]:
    """The same for a program: entries as ``--json`` of ``read`` has them, the verdict likewise."""
    document = {
        "did": outcome.done.did,
        "line": outcome.done.seq,
        "by": inert(outcome.by),
        "written": outcome.written,
        "entries": [
            known({"before": None if was is None else _document(was), "after": _document(now)})
            for was, now in outcome.touched
        ],
        "verdict": answer(outcome.after)["verdict"],
    }
    learnt = outcome.learnt
    return document if learnt is None else document | {"learned": lessons_json(learnt)}


def _document(finding: Finding) -> dict[str, Any]:
    return entry_document(finding) | {"withdrawn": finding.withdrawn}


def _lines(head: str, finding: Finding, zone_map: ZoneMap) -> Iterator[Text]:
    """The house's lines, the first of which says which state it is."""
    first, *rest = finding_lines(finding, zone_map)
    yield Text.assemble((f"{head:<5}", "bold"), first[5:])
    yield from rest


def _where(outcome: Outcome) -> str:
    if not outcome.written:
        return worded("Only tried out: nothing was written")
    return worded(
        "Line {seq} of the journal: {did}, by {by}",
        seq=outcome.done.seq,
        did=outcome.done.did,
        by=inert(outcome.by),
    )
