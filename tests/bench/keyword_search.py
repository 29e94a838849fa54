"""The baseline: plain keyword search over what an ear heard, instead of a reading.

Of every kind of word the longest vocabulary phrase that the text holds wins. A place carries over
until another is named. Nothing else is understood: no negation, question, correction or stand-by,
and one sentence makes at most one entry.

:func:`search` does so for the bundled recordings, with place, side and condition alone, graded by
the same rules as everybody's. :func:`understand` does so for the corpus, where it also looks for
face, probe, metal left around, hedge, spoken grade, clear, not seen and photo, and is given the
numbers as voicelog reads them (:mod:`scribe`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache

import scribe
from corpus import Said
from own import shipped
from score import Entries, Outcome, as_entry

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Add, Entry, Kind
from voicelog.domain.reading import Phrase, Speech
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import Ledger
from voicelog.yardstick.strict import Answer

_SLOTS = ("zone", "side", "condition")


class Keywords:
    """Phrases by their words, so that each run of words of a text is looked up once.

    Args:
        phrases: what to look for.
        fold: what is done to a phrase's text first.
    """

    def __init__(self, phrases: Iterable[Phrase], fold: Callable[[str], str] = str) -> None:
        self._by_words: dict[tuple[str, ...], list[tuple[int, Phrase]]] = {}
        for rank, phrase in enumerate(phrases):
            self._by_words.setdefault(tuple(plain(fold(phrase.text))), []).append((rank, phrase))
        self._longest = max(map(len, self._by_words), default=0)

    def within(self, words: Sequence[str]) -> Iterator[tuple[int, Phrase]]:
        """Every phrase that the words hold with where it begins: longest first, then as listed."""
        hits = [
            (-len(phrase.text), rank, start, phrase)
            for start in range(len(words))
            for end in range(start + 1, min(start + self._longest, len(words)) + 1)
            for rank, phrase in self._by_words.get(tuple(words[start:end]), ())
        ]
        for *_, start, phrase in sorted(hits, key=lambda hit: hit[:3]):
            yield start, phrase


def plain(text: str) -> list[str]:
    """Its words, without apostrophes and the like."""
    return re.findall(r"[a-z0-9]+", text.lower())


def search(grammar: Grammar, texts: dict[str, str]) -> Iterator[Outcome]:
    """What keyword search makes of each utterance, in order.

    Args:
        grammar: its vocabulary and its grading rules are used.
        texts: utterance name to what was heard.
    """
    ledger = Ledger(grammar.zone_map, grammar.rules, Rails.MIXED)
    keywords = Keywords(phrase for phrase in grammar.vocabulary.phrases if phrase.slot in _SLOTS)
    place: dict[str, str] = {}
    for number, (name, text) in enumerate(texts.items(), start=1):
        found: dict[str, str] = {}
        for _, phrase in keywords.within(plain(text)):
            found.setdefault(phrase.slot, phrase.value)
        if "zone" in found:
            place = {}
        place |= {slot: found[slot] for slot in ("zone", "side") if slot in found}
        made: Entries = {}
        if "condition" in found and "zone" in place:
            slots = {**place, "condition": found["condition"]}
            entry = Entry(f"e{number}.1", f"u{number}", "", Kind.FINDING, slots, text=text)
            made = {entry.id: as_entry(ledger.apply([Add(entry)])[0])}
        yield Outcome(name, text, made, {}, ())


def understand(said: Sequence[Said], flags: Mapping[str, str]) -> Answer:
    """One inspection of the corpus."""
    return scribe.understand(said, flags, _found)


@cache
def _keywords() -> Keywords:
    phrases = (p for p in shipped().vocabulary.phrases if p.slot in scribe.CLASSES)
    return Keywords(phrases, scribe.folded)


def _found(sentence: scribe.Sentence, speech: Speech) -> list[scribe.Found]:
    found = scribe.Found()
    # An apostrophe inside a word divides it here as it does in the phrases.
    words = plain(" ".join(sentence.words))
    for start, phrase in _keywords().within(words):
        told = scribe.value(phrase, speech)
        if told is not None and told[0] not in found.slots:
            found.slots[told[0]] = told[1]
            if told[0] == "condition":
                found.measures = scribe.numbered(words, sentence.measures, start)
    found.measures = found.measures or scribe.numbered(words, sentence.measures, len(words))
    return [found]
