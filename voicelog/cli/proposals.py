"""What listening again proposes, as text, as JSON, and as the command that takes it over."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from rich.text import Text

from voicelog.cli.show import console
from voicelog.cli.wording import finding_lines
from voicelog.domain.entry import Finding, Kind
from voicelog.domain.inert import inert
from voicelog.domain.slot import SLOTS, SlotValue
from voicelog.domain.zone import ZoneMap
from voicelog.export.answer import entry_document
from voicelog.runtime.proposals import Proposal
from voicelog.runtime.relisten import Relisten
from voicelog.tongue import to_word, worded, worded_many

_READ_ANEW = to_word(
    "the sentence is read by itself: put right with --set what it had from other sentences"
)
_SHOWN = 8
"""Utterances named in a line; the others are only counted."""


def command(proposal: Proposal, folder: Path) -> str:
    """The line for a shell that takes the proposal over; empty where none does.

    The reason that an unsafe entry needs is left to whoever has listened.
    """
    if proposal.cannot:
        return ""
    return shlex.join(["voicelog", "amend", str(folder), *_deed(proposal)])


def _deed(proposal: Proposal) -> Iterator[str]:
    if proposal.entry is None:
        yield from _added(proposal)
        return
    yield from ("--entry", proposal.entry)
    if proposal.now is None:
        yield "--withdraw"
        return
    entry = proposal.now.entry
    for name in proposal.differs:
        if name == "kind":
            yield from ("--set", f"kind={entry.kind}")
        elif name in entry.slots:
            yield from ("--set", f"{name}={_typed(name, entry.slots[name])}")
        else:
            yield from ("--drop", name)
    if "kind" in proposal.differs and entry.kind is Kind.NOT_SEEN and entry.reason:
        yield from ("--set", f"reason={entry.reason}")


def _added(proposal: Proposal) -> Iterator[str]:
    """A new entry: its sentence said anew where it made others, else added behind the last one."""
    if proposal.beside is not None:
        yield from ("--entry", proposal.beside, "--say", proposal.heard_now)
        return
    if proposal.behind is not None:
        yield from ("--entry", proposal.behind)
    yield from ("--add", proposal.heard_now)


def _typed(name: str, value: SlotValue) -> str:
    """A value as it is typed, with the unit that its slot is kept in."""
    if isinstance(value, str):
        return value
    number = f"{float(value):.4f}".rstrip("0").rstrip(".")
    return f"{number} mm" if SLOTS[name].kind == "length" else number


def show_relistened(told: Relisten, folder: Path) -> None:
    """Print one block for each proposal, then what was not heard and how many there are."""
    out = console()
    for number, proposal in enumerate(told.proposals, 1):
        for line in _block(number, proposal, told.zone_map, folder):
            out.print(line)
        out.print()
    for note in _notes(told):
        out.print(Text(note, style="dim"))
    out.print(Text(_counts(told)))


def _block(number: int, proposal: Proposal, zone_map: ZoneMap, folder: Path) -> Iterator[Text]:
    said = proposal.utterance
    head = worded(
        "{number}. {entry}, said in {said}",
        number=number,
        entry=proposal.entry or worded("a new entry"),
        said=said,
    )
    yield Text(inert(head), style="bold")
    yield from _state(worded("stands:"), proposal.was, zone_map, worded("nothing"))
    yield from _state(
        worded("would be:"), proposal.now, zone_map, worded("withdrawn: nothing of it was heard")
    )
    if proposal.heard_before == proposal.heard_now:
        yield _line(
            worded("words:"),
            worded("“{heard_now}”, read differently", heard_now=inert(proposal.heard_now)),
        )
    else:
        yield _line(worded("heard then:"), f"“{inert(proposal.heard_before)}”")
        yield _line(worded("heard now:"), f"“{inert(proposal.heard_now)}”")
    yield from _grades(proposal)
    if proposal.settled:
        yield _line("", worded("a person has put this right or confirmed it since"), "bold yellow")
    if proposal.cannot:
        yield _line("", worded("cannot be taken over: {cannot}", cannot=inert(proposal.cannot)))
    else:
        yield _line(worded("take over:"), inert(command(proposal, folder)))
        if proposal.entry is None:
            yield _line("", worded(_READ_ANEW), "dim")


def _state(head: str, finding: Finding | None, zone_map: ZoneMap, without: str) -> Iterator[Text]:
    if finding is None:
        yield _line(head, without)
        return
    first = next(finding_lines(replace(finding, history=()), zone_map))
    yield Text.assemble((f"   {head:<11} ", "dim"), first[6:])


def _grades(proposal: Proposal) -> Iterator[Text]:
    before, now = proposal.grade_before, proposal.grade_now
    if before is not now:
        none = worded("none")
        yield _line(worded("grade:"), f"{before or none} → {now or none}")
    if proposal.softens:
        warning = worded(
            "LOWERS AN UNSAFE: listen to it yourself; amend will ask for a reason (--why)"
        )
        yield _line("", warning, "bold white on red")


def _line(head: str, text: str, style: str = "") -> Text:
    return Text.assemble((f"   {head:<11} ", "dim"), (text, style))


def _notes(told: Relisten) -> Iterator[str]:
    if told.remark:
        yield told.remark
    if told.utterances and not told.looked_at:
        yield worded("Nothing to go through: what was added at the bench is not listened to again")
    if told.silent:
        yield worded("Without sound, read only: {named}", named=_named(told.silent))
    if told.broken:
        why = "; ".join(f"{name}: {inert(told.broken[name])}" for name in [*told.broken][:_SHOWN])
        yield worded(
            "Clip missing or not what was kept ({count}): {why}",
            count=len(told.broken),
            why=why,
        )
    if told.unheard:
        yield worded(
            "Nothing heard, so the words kept were used: {named}", named=_named(told.unheard)
        )
    if told.steering:
        yield worded(
            "Heard as another command than it was taken for then: {named}",
            named=_named(told.steering),
        )


def _named(names: Sequence[str]) -> str:
    more = (
        (" " + worded("and {count} more", count=len(names) - _SHOWN)) if len(names) > _SHOWN else ""
    )
    return f"{', '.join(map(inert, names[:_SHOWN]))}{more} ({len(names)})"


def _counts(told: Relisten) -> str:
    found = len(told.proposals)
    lowering = sum(proposal.softens for proposal in told.proposals)
    settled = sum(proposal.settled for proposal in told.proposals)
    return worded_many(
        "{seen} of {utterances} utterances gone through again: {count} proposal, {lowering} of them"
        " lowering an unsafe entry, {settled} against what a person settled. Nothing was changed.",
        "{seen} of {utterances} utterances gone through again: {count} proposals, {lowering} of them"
        " lowering an unsafe entry, {settled} against what a person settled. Nothing was changed.",
        found,
        seen=told.looked_at,
        utterances=told.utterances,
        lowering=lowering,
        settled=settled,
    )


def as_json_object(told: Relisten, folder: Path) -> dict[str, Any]:
    """The same for a program; entries as ``--json`` of ``voicelog read`` has them."""
    return {
        "utterances": told.utterances,
        "heard_again": told.looked_at,
        "proposals": [_as_json(proposal, folder) for proposal in told.proposals],
        "silent": told.silent,
        "broken": told.broken,
        "unheard": told.unheard,
        "steering": told.steering,
        "remark": told.remark,
        "changed": False,
    }


def _as_json(proposal: Proposal, folder: Path) -> dict[str, Any]:
    return {
        "entry": proposal.entry,
        "utterance": proposal.utterance,
        "heard_before": proposal.heard_before,
        "heard_now": proposal.heard_now,
        "was": None if proposal.was is None else entry_document(proposal.was),
        "now": None if proposal.now is None else entry_document(proposal.now),
        "differs": list(proposal.differs),
        "lowers_unsafe": proposal.softens,
        "settled": proposal.settled,
        "cannot": proposal.cannot,
        "command": command(proposal, folder),
    }
