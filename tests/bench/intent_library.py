"""A baseline: the general-purpose intent library ``hassil`` with the same vocabulary.

How it was set up, to the best that we found it can do here:

- The vocabulary's phrases, known mishearings included, are its slot lists, one for each class of
  words; what is no phrase by itself, but a word of one, is in a list of leftovers.
- One sentence template takes the phrases of a clause in every order, up to :data:`LONGEST`. It
  covers every fixed order that one could write down. Of all ways to match, the one with the fewest
  leftovers, then the fewest and so longest phrases is taken.
- Words that no phrase has are given to it as skip words, so that they never make a match fail.
- It has no approximate matching. Its unmatched-text option is for telling a person which slot was
  not understood: it needs a fixed literal after the slot, which a template without fixed order does
  not have, so it stays off.
- Around it: clauses are cut at commas, a negation denies the conditions after it in its clause,
  questions, conditionals and talk to others are passed over, a second condition or place begins the
  next entry. Carried places and numbers are those of every baseline (:mod:`scribe`); each measure
  reaches it as one word.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache

import scribe
from corpus import Said
from hassil import Intents, recognize_all
from own import shipped

from voicelog.domain.reading import Phrase, Speech
from voicelog.yardstick.strict import Answer

LONGEST = 12
"""Phrases in one clause; a longer clause is cut."""
_PASSED_OVER = frozenset(("question", "hypothetical", "address"))
_LEFTOVER, _MEASURES = "leftover", 50

Item = tuple[str, str]
"""A class of words and what stands there: the phrase's text, or a measure's word."""


def understand(said: Sequence[Said], flags: Mapping[str, str]) -> Answer:
    """One inspection of the corpus."""
    return scribe.understand(said, flags, _found)


@cache
def _intents() -> Intents:
    lists: dict[str, dict[str, list[str]]] = {}
    for name, text in _phrase():
        lists.setdefault(name, {"values": []})["values"].append(text)
    whole = {text for _, text in _phrase()}
    lists[_LEFTOVER] = {"values": sorted(_known() - whole)}
    lists[scribe.MEASURE] = {"values": [f"{scribe.MEASURE}{n}" for n in range(_MEASURES)]}
    template = "<any>"
    for _ in range(LONGEST - 1):
        template = f"<any> [{template}]"
    return Intents.from_dict(
        {
            "language": "en",
            "intents": {"Report": {"data": [{"sentences": [template]}]}},
            "expansion_rules": {"any": "(" + "|".join(f"{{{name}}}" for name in lists) + ")"},
            "lists": lists,
        }
    )


def _list(slot: str) -> str:
    return slot.replace("-", "_")


@cache
def _known() -> frozenset[str]:
    """Every word of the vocabulary."""
    return frozenset(word for _, text in _phrase() for word in text.split())


@cache
def _phrase() -> Mapping[tuple[str, str], Phrase]:
    """By list and folded text; of two alike the first listed."""
    phrases = reversed(shipped().vocabulary.phrases)
    return {(_list(p.slot), scribe.folded(p.text)): p for p in phrases}


def _found(sentence: scribe.Sentence, speech: Speech) -> list[scribe.Found]:
    drafts = [scribe.Found()]
    for clause in _clauses(sentence):
        items = _items(clause)
        if any(name in _PASSED_OVER for name, _ in items):
            continue
        _take(drafts, items, sentence, speech)
    return drafts


def _clauses(sentence: scribe.Sentence) -> Iterator[list[str]]:
    clause: list[str] = []
    for number, word in enumerate(sentence.words):
        clause.append(word)
        if number in sentence.breaks or len(clause) == LONGEST:
            yield clause
            clause = []
    if clause:
        yield clause


def _items(clause: Sequence[str]) -> list[Item]:
    """What the library makes of a clause, in order; nothing where it matches in no way."""
    strange = [w for w in clause if w not in _known() and not w.startswith(scribe.MEASURE)]
    text = " ".join(word for word in clause)
    ways = (
        [(entity.name, entity.text_clean) for entity in result.entities_list]
        for result in recognize_all(text, _intents(), skip_words=strange)
    )
    return min(ways, key=_cost, default=[])


def _cost(items: Sequence[Item]) -> tuple[int, int]:
    return sum(name == _LEFTOVER for name, _ in items), len(items)


def _take(
    drafts: list[scribe.Found], items: Sequence[Item], sentence: scribe.Sentence, speech: Speech
) -> None:
    """Add a clause to the last draft, and begin another where it names something again."""
    denied = False
    for number, (name, text) in enumerate(items):
        if name == scribe.MEASURE:
            ahead = items[number + 1 :][:1]
            counts = any(_slot(item, speech) == "condition" for item in ahead)
            measure = sentence.measures[int(text.removeprefix(scribe.MEASURE))]
            drafts[-1].measures.append((measure, counts))
            continue
        denied = denied or name == "negation"
        phrase = _phrase().get((name, text))
        told = scribe.value(phrase, speech) if phrase is not None else None
        if told is None:
            continue
        slot, value = told if not (denied and told[0] == "condition") else ("clear", "clear")
        if _names_again(drafts[-1].slots, slot, value):
            drafts.append(scribe.Found())
        drafts[-1].slots.setdefault(slot, value)


def _slot(item: Item, speech: Speech) -> str:
    phrase = _phrase().get(item)
    told = scribe.value(phrase, speech) if phrase is not None else None
    return told[0] if told is not None else ""


def _names_again(slots: Mapping[str, str], slot: str, value: str) -> bool:
    again = slot in ("zone", "side", "condition") and slots.get(slot, value) != value
    return again and "condition" in slots
