"""Phrases from all files together: what may be said, and never one phrase with two meanings."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from unicodedata import normalize

from voicelog.config.document import Document
from voicelog.config.faults import Fault
from voicelog.config.positions import Loc
from voicelog.domain.reading import Phrase
from voicelog.tongue import to_word, worded

LONGEST_WORDS = 8
_FORBIDDEN = re.compile(r"[^\w \-'/%\".]|_|(?<![^\W\d_])\.")
_APART = re.compile(r"[\s\-/]+")
_PLAIN = re.compile(rf"[a-z]+(?:[ '][a-z]+){{,{LONGEST_WORDS - 1}}}")
"""Phrases that need no closer look: nearly all of them, and there are thousands."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A phrase and where it was written.

    Args:
        phrase: its text in small letters with single spaces.
        document: the file.
        loc: the way to it in that file.
        layer: 0 for the shipped grammar, 1 for the first overlay and so on.
        replace: it may take the phrase over from a lower layer.
        learned: a mishearing learned from a correction: it takes over what others' mishearings say,
            and yields to everything else.
    """

    phrase: Phrase
    document: Document
    loc: Loc
    layer: int = 0
    replace: bool = False
    learned: bool = False

    def fault(self, message: str) -> Fault:
        """A fault at this phrase."""
        return self.document.fault(self.loc, message)


def tidy(phrase: Phrase) -> Phrase:
    """The phrase in small letters, single spaces and plain apostrophes.

    Letters with marks are composed, however the file has them, as they are in what is heard.
    """
    text = phrase.text
    if _PLAIN.fullmatch(text):
        return phrase
    if not text.isascii():
        text = normalize("NFKC", text).replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    text = " ".join(text.lower().split())
    return phrase if text == phrase.text else replace(phrase, text=text)


def spelling_faults(placed: Placed) -> Iterable[Fault]:
    """What is wrong with the text of one phrase."""
    text = placed.phrase.text
    if not any(character.isalnum() for character in text):
        yield placed.fault(worded("an empty phrase"))
    if odd := sorted(set(_FORBIDDEN.findall(text))):
        told = to_word("{phrase} has {signs}, which nobody can say: write the words")
        yield placed.fault(worded(told, phrase=repr(text), signs=" ".join(odd)))
    if (words := len(text.split())) > LONGEST_WORDS:
        told = to_word("{phrase} has {words} words; a phrase has at most {most}")
        yield placed.fault(worded(told, phrase=repr(text), words=words, most=LONGEST_WORDS))


def merging_key(text: str) -> str:
    """What two spellings of one phrase share: letters and words, however they are joined."""
    return _APART.sub(" ", tidy(Phrase(text, "", "")).text).strip()


def merged(phrases: Iterable[Placed], faults: list[Fault]) -> tuple[Placed, ...]:
    """All phrases, each once; faulty ones are added to ``faults``.

    Phrases that differ only in hyphens, slashes and spaces are the same. A higher layer may repeat
    a phrase with its old meaning, and with ``replace`` give it another. What was learned never
    stands in the way of what people say.
    """
    chosen: dict[str, Placed] = {}
    for placed in phrases:
        key = placed.phrase.text
        if not _PLAIN.fullmatch(key):
            faults.extend(spelling_faults(placed))
            key = _APART.sub(" ", key).strip()
        earlier = chosen.get(key)
        if earlier and placed.learned and not earlier.phrase.misheard:
            continue
        if earlier and not _may_take_over(placed, earlier):
            faults.append(_twice(placed, earlier))
        elif key:
            chosen[key] = placed
    return tuple(chosen.values())


def _may_take_over(placed: Placed, earlier: Placed) -> bool:
    """True when a higher layer repeats the earlier meaning, or says that it replaces it; what was
    learned replaces mishearings, and is replaced, without saying so.
    """
    silently = placed.learned or earlier.learned
    return placed.layer > earlier.layer and (placed.replace or silently or _same(placed, earlier))


def _same(one: Placed, other: Placed) -> bool:
    """True when both phrases settle the same slots."""
    a, b = one.phrase, other.phrase
    return (a.slot, a.value, dict(a.also)) == (b.slot, b.value, dict(b.also))


def _twice(placed: Placed, earlier: Placed) -> Fault:
    """The fault of a phrase that is already there, naming both places."""
    first, phrase = earlier.phrase, placed.phrase
    there = earlier.fault("")
    told = worded(
        "{phrase} ({meaning}) is already said for {other} at {place}",
        phrase=repr(phrase.text),
        meaning=f"{phrase.slot} {phrase.value}",
        other=f"{first.slot} {first.value}",
        place=f"{there.file}:{there.line}",
    )
    if placed.layer > earlier.layer:
        told = worded("{told}; write {line} to take it over", told=told, line="replace = true")
    return placed.fault(told)
