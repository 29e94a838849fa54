"""Deeds that put one entry right: slots, other readings, words typed or spoken anew."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.slot import SLOTS, Slots
from voicelog.domain.zone import ZoneMap
from voicelog.errors import UsageFault
from voicelog.findings.wording import what_in_words
from voicelog.runtime.bench_log import Done
from voicelog.tongue import worded
from voicelog.tui.entry_words import place_words
from voicelog.tui.looks import KINDS, look_of_grade
from voicelog.tui.review.alternatives_dialog import AlternativeRow, AlternativesDialog
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.choices import Listed, among, not_listed
from voicelog.tui.review.dictating import Dictate, sentence
from voicelog.tui.review.learning import offer_to_learn
from voicelog.tui.review.slot_dialog import KIND, REASON, SlotDialog, slot_rows, title_of
from voicelog.tui.review.value_dialog import Chosen, ValueDialog


async def confirm(bench: Bench) -> None:
    """It is right as it stands."""
    before = bench.finding
    done = await bench.do(lambda why: bench.review.confirm(before.entry.id, why=why))
    if done is not None:
        await offer_to_learn(bench, before, confirmed=True)


async def take(bench: Bench, number: int) -> None:
    """Another reading of the same sound, counted from 0."""
    before = bench.finding
    done = await bench.do(lambda why: bench.review.take(before.entry.id, number, why=why))
    if done is not None:
        await offer_to_learn(bench, before)


async def choose_reading(bench: Bench) -> None:
    """All other readings, to choose from."""
    others = bench.review.alternatives(bench.entry)
    if not others:
        raise UsageFault(
            worded("{entry} has no other reading", entry=bench.entry),
            worded("Edit it with e, or retype it with t"),
        )
    zone_map = bench.review.grammar.zone_map
    rows = [
        AlternativeRow(
            other.text, _entry_words(other.finding, zone_map), str(other.finding.grade or "")
        )
        for other in others
    ]
    number = await bench.ask(AlternativesDialog(rows))
    if number is not None:
        await take(bench, number)


async def edit(bench: Bench) -> None:
    """One slot, its kind or its reason."""
    bench.refuse_if_read_only()
    before = bench.finding
    entry = before.entry
    slot = await bench.ask(SlotDialog(entry, slot_rows(entry, _in_words(bench, entry))))
    if slot is None:
        return
    chosen = await bench.ask(_value_dialog(bench, entry, slot))
    if chosen is None:
        return
    done = await bench.do(partial(_correct, bench, entry, slot, chosen))
    if done is not None and slot in SLOTS and not chosen.drop:
        await offer_to_learn(bench, before)


async def retype(bench: Bench, dictate: Dictate) -> None:
    """The sentence typed anew, or spoken, and read again."""
    before = bench.finding
    name, heard = before.entry.id, before.entry.text
    preview = partial(_preview, bench, name, None)
    said = await sentence(bench, dictate, worded("RETYPE {entry}", entry=name), heard, preview)
    if said is None:
        return
    words, clip = said
    done = await bench.do(lambda why: bench.review.reread(name, words, clip=clip, why=why))
    if done is not None:
        await offer_to_learn(bench, before, said=words)


async def add(bench: Bench, dictate: Dictate) -> None:
    """A new entry in words; what they do not say of the place is as in the one looked at."""
    near = bench.looking.listing.current or None
    preview = partial(_preview, bench, None, near)
    said = await sentence(bench, dictate, worded("ADD AN ENTRY"), "", preview)
    if said is None:
        return
    words, clip = said
    done = await bench.do(lambda why: bench.review.add(words, near=near, clip=clip, why=why))
    if done is not None:
        bench.go_to(done.findings[0].entry.id)


def _preview(bench: Bench, entry: str | None, near: str | None, text: str) -> Sequence[str]:
    """How a sentence would be read, without writing it."""
    zone_map = bench.review.grammar.zone_map
    findings = bench.review.read_as(text, entry=entry, near=near)
    return [
        _entry_words(f, zone_map) + (f" [{look_of_grade(f.grade).name}]" if f.grade else "")
        for f in findings
    ]


def _entry_words(finding: Finding, zone_map: ZoneMap) -> str:
    what = what_in_words(finding) or KINDS[finding.entry.kind].name
    return f"{place_words(finding.entry, zone_map)} — {what}"


def _in_words(bench: Bench, entry: Entry) -> dict[str, str]:
    from voicelog.interpret.slot_text import value_in_words  # starts slowly

    zone_map = bench.review.grammar.zone_map
    return {slot: value_in_words(slot, value, zone_map) for slot, value in entry.slots.items()}


def _value_dialog(bench: Bench, entry: Entry, slot: str) -> ValueDialog:
    title = title_of(slot)
    if slot == KIND:
        kinds = among(Listed(str(kind), KINDS[kind].name) for kind in Kind)
        now: str = KINDS[entry.kind].name
        return ValueDialog(slot, title, now, kinds, partial(not_listed, title), drop="")
    if slot == REASON:
        return ValueDialog(slot, title, entry.reason, None, str)
    now = _in_words(bench, entry).get(slot, "")
    named = SLOTS[slot].kind in ("word", "name")
    choose = bench.choices(slot, entry.slots.get(slot)) if named else None
    return ValueDialog(slot, title, now, choose, partial(_checked, bench, slot))


def _checked(bench: Bench, slot: str, text: str) -> str:
    """What a typed text amounts to, in words."""
    from voicelog.interpret.slot_text import value_in_words

    value = _value(bench, slot, text)
    return value_in_words(slot, value, bench.review.grammar.zone_map)


def _value(bench: Bench, slot: str, text: str) -> str | int | float:
    from voicelog.interpret.slot_text import slot_value

    grammar = bench.review.grammar
    speech = bench.settings.speech
    return slot_value(slot, text, grammar.zone_map, grammar.vocabulary, speech=speech)


def _correct(bench: Bench, entry: Entry, slot: str, chosen: Chosen, why: str) -> Done:
    review, name = bench.review, entry.id
    if slot == KIND:
        return review.correct(name, {}, kind=Kind(str(chosen.value)), why=why)
    if slot == REASON:
        return review.correct(name, {}, reason="" if chosen.drop else chosen.text, why=why)
    if chosen.drop:
        return review.correct(name, {}, drop=[slot], why=why)
    value = _value(bench, slot, chosen.text) if chosen.value is None else chosen.value
    slots: Slots = {slot: value}
    return review.correct(name, slots, why=why)
