"""The baseline: plain keyword search over what an ear heard, instead of a reading.

Of every kind of word (place, side, condition) the longest vocabulary phrase that the text holds
wins. A place carries over until another is named. Nothing else is understood: no negation, number,
probe, correction, photo or stand-by, and one utterance makes at most one finding. The findings are
graded by the same rules as everybody's.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from score import Entries, Outcome, as_entry

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import Ledger

_SLOTS = ("zone", "side", "condition")


def search(grammar: Grammar, texts: dict[str, str]) -> Iterator[Outcome]:
    """What keyword search makes of each utterance, in order.

    Args:
        grammar: its vocabulary and its grading rules are used.
        texts: utterance name to what was heard.
    """
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
    place: dict[str, str] = {}
    for number, (name, text) in enumerate(texts.items(), start=1):
        found = dict(_found(grammar, text))
        if "zone" in found:
            place = {}
        place |= {slot: found[slot] for slot in ("zone", "side") if slot in found}
        made: Entries = {}
        if "condition" in found and "zone" in place:
            slots = {**place, "condition": found["condition"]}
            entry = Entry(f"e{number}.1", f"u{number}", "", Kind.FINDING, slots, text=text)
            made = {entry.id: as_entry(ledger.apply([Add(entry)])[0])}
        yield Outcome(name, text, made, {}, ())


def _found(grammar: Grammar, text: str) -> Iterator[tuple[str, str]]:
    plain = f" {' '.join(re.findall(r'[a-z0-9]+', text.lower()))} "
    for slot in _SLOTS:
        phrases = [phrase for phrase in grammar.vocabulary.phrases if phrase.slot == slot]
        for phrase in sorted(phrases, key=lambda phrase: -len(phrase.text)):
            if f" {' '.join(re.findall(r'[a-z0-9]+', phrase.text.lower()))} " in plain:
                yield slot, phrase.value
                break
