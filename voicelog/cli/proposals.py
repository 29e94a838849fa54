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

_READ_ANEW = "the sentence is read by itself: put right with --set what it had from other sentences"
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
    head = f"{number}. {proposal.entry or 'a new entry'}, said in {said}"
    yield Text(inert(head), style="bold")
    yield from _state("stands:", proposal.was, zone_map, "nothing")
    yield from _state("would be:", proposal.now, zone_map, "withdrawn: nothing of it was heard")
    if proposal.heard_before == proposal.heard_now:
        yield _line("words:", f"“{inert(proposal.heard_now)}”, read differently")
    else:
        yield _line("heard then:", f"“{inert(proposal.heard_before)}”")
        yield _line("heard now:", f"“{inert(proposal.heard_now)}”")
    yield from _grades(proposal)
    if proposal.settled:
        yield _line("", "a person has put this right or confirmed it since", "bold yellow")
    if proposal.cannot:
        yield _line("", f"cannot be taken over: {inert(proposal.cannot)}")
    else:
        yield _line("take over:", inert(command(proposal, folder)))
        if proposal.entry is None:
            yield _line("", _READ_ANEW, "dim")


def _state(head: str, finding: Finding | None, zone_map: ZoneMap, without: str) -> Iterator[Text]:
    if finding is None:
        yield _line(head, without)
        return
    first = next(finding_lines(replace(finding, history=()), zone_map))
    yield Text.assemble((f"   {head:<11} ", "dim"), first[6:])


def _grades(proposal: Proposal) -> Iterator[Text]:
    before, now = proposal.grade_before, proposal.grade_now
    if before is not now:
        yield _line("grade:", f"{before or 'none'} → {now or 'none'}")
    if proposal.softens:
        warning = "LOWERS AN UNSAFE: listen to it yourself; amend will ask for a reason (--why)"
        yield _line("", warning, "bold white on red")


def _line(head: str, text: str, style: str = "") -> Text:
    return Text.assemble((f"   {head:<11} ", "dim"), (text, style))


def _notes(told: Relisten) -> Iterator[str]:
    if told.remark:
        yield told.remark
    if told.utterances and not told.looked_at:
        yield "Nothing to go through: what was added at the bench is not listened to again"
    if told.silent:
        yield f"Without sound, read only: {_named(told.silent)}"
    if told.broken:
        why = "; ".join(f"{name}: {inert(told.broken[name])}" for name in [*told.broken][:_SHOWN])
        yield f"Clip missing or not what was kept ({len(told.broken)}): {why}"
    if told.unheard:
        yield f"Nothing heard, so the words kept were used: {_named(told.unheard)}"
    if told.steering:
        yield f"Heard as another command than it was taken for then: {_named(told.steering)}"


def _named(names: Sequence[str]) -> str:
    more = f" and {len(names) - _SHOWN} more" if len(names) > _SHOWN else ""
    return f"{', '.join(map(inert, names[:_SHOWN]))}{more} ({len(names)})"


def _counts(told: Relisten) -> str:
    found = len(told.proposals)
    lowering = sum(proposal.softens for proposal in told.proposals)
    settled = sum(proposal.settled for proposal in told.proposals)
    return (
        f"{told.looked_at} of {told.utterances} utterances gone through again: "
        f"{found} proposal{'' if found == 1 else 's'}, {lowering} of them lowering an unsafe entry, "
        f"{settled} against what a person settled. Nothing was changed."
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
