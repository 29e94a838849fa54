"""Another recogniser on one entry: what it proposes, to be taken or left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.errors import EarFault
from voicelog.runtime.bench_log import Done
from voicelog.tongue import worded
from voicelog.tui.entry_words import place_words, what_words
from voicelog.tui.review.alternatives_dialog import AlternativeRow, AlternativesDialog
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.waiting_dialog import Stopped, Tell, wait_for

if TYPE_CHECKING:
    from voicelog.config.grammar import Grammar
    from voicelog.config.settings import Settings
    from voicelog.recognise.port import Ear
    from voicelog.runtime.proposals import Proposal
    from voicelog.runtime.relisten import Relisten

EAR = "second"
"""The recogniser that hears again: another one than any inspection is heard with."""


async def hear_anew(bench: Bench) -> None:
    """Hear the entry's sound again, with the vocabulary in force now, and ask what to take.

    Raises:
        VoicelogError: the log or the vocabulary cannot be read, or what was picked not be done.
    """
    bench.refuse_if_read_only()
    entry = bench.entry
    work = partial(_relisten, bench, entry)
    heard = await wait_for(
        bench, f"HEAR {entry} ANEW", "The other recogniser is made ready …", work
    )
    if heard is None:
        bench.say("Called off; nothing was changed")
        return
    told, note = heard
    found = [p for p in told.proposals if not p.cannot and p.entry in (entry, None)]
    if not found:
        bench.say(f"Heard anew, nothing would be different{note}")
        return
    bench.say(f"Heard anew{note}; nothing is taken over yet")
    rows = _rows(found, bench.review.grammar.zone_map)
    number = await bench.ask(AlternativesDialog(rows))
    if number is not None:
        await bench.do(lambda why: _take(bench, entry, found[number], why))


def _relisten(bench: Bench, entry: str, tell: Tell, stopped: Stopped) -> tuple[Relisten, str]:
    """What the other recogniser proposes; without it the words that were kept are read anew."""
    from voicelog.runtime.relisten import relisten  # starts slowly

    folder, settings = bench.review.folder, bench.settings
    try:
        return relisten(
            folder, settings, ear=partial(_opened, settings, tell, stopped), entries=[entry]
        ), ""
    except EarFault as fault:
        if stopped():
            raise
        tell("Its words are read anew …")
        note = f", by its words alone: {fault.message}"
        return relisten(folder, settings, entries=[entry]), note


def _opened(settings: Settings, tell: Tell, stopped: Stopped, grammar: Grammar) -> Ear:
    """The other recogniser, unless nobody waits for it any more: a thread cannot be ended."""
    from voicelog.runtime.opening import open_the_ear

    if stopped():
        raise EarFault(worded("It was called off"))
    opened = open_the_ear(replace(settings, ear=EAR), grammar)
    tell("The other recogniser hears it …")
    return opened


def _rows(found: Sequence[Proposal], zone_map: ZoneMap) -> list[AlternativeRow]:
    return [_row(proposal, zone_map) for proposal in found]


def _row(proposal: Proposal, zone_map: ZoneMap) -> AlternativeRow:
    finding = proposal.now
    if finding is None:
        return AlternativeRow(proposal.heard_now, "nothing of it was heard: withdraw it")
    what = f"{place_words(finding.entry, zone_map)} — {what_words(finding)}"
    new = "one more entry: " if proposal.entry is None else ""
    return AlternativeRow(proposal.heard_now, new + what, str(finding.grade or ""))


def _take(bench: Bench, heard: str, proposal: Proposal, why: str) -> Done:
    review = bench.review
    if proposal.entry is None:
        return review.add(proposal.heard_now, near=heard, why=why)
    if proposal.now is None:
        return review.withdraw(proposal.entry, why=why)
    now = proposal.now.entry
    slots: Slots = {name: now.slots[name] for name in proposal.differs if name in now.slots}
    gone = [name for name in proposal.differs if name != "kind" and name not in now.slots]
    kind = now.kind if "kind" in proposal.differs else None
    return review.correct(proposal.entry, slots, drop=gone, kind=kind, why=why)
