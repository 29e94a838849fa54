"""Where the words of a lesson stand already: in the vocabulary, and in the bundled samples."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import suppress
from functools import cache

from voicelog.config.data import samples_dir
from voicelog.domain.heard import Hypothesis
from voicelog.domain.lesson import Lesson
from voicelog.domain.reading import TALK, Phrase, Vocabulary
from voicelog.domain.slot import PLACE_SLOTS
from voicelog.errors import InputFault
from voicelog.interpret.everyday import is_everyday
from voicelog.interpret.lexicon import fold, key
from voicelog.interpret.numbers import number_at, ordinal_at
from voicelog.interpret.sayable import CLASSES
from voicelog.interpret.tokens import tokenise
from voicelog.interpret.units import unit_at
from voicelog.tongue import Worded, worded

_HARMLESS = TALK | frozenset(("relation", "end", "label", "lead"))
"""Classes whose words may be part of what is learned: nothing is lost with them."""

_PLACES = frozenset(name for slot in PLACE_SLOTS for name in CLASSES.get(slot, ()))
"""Classes of the words that say where."""


def said_already(lesson: Lesson, vocabulary: Vocabulary) -> str:
    """Why the words cannot be learned: people say them, or a part of them, for something else.

    Small words may be a part of them, and words of what was said itself: "front rain" for "front
    rail" is no loss of the front. Numbers are never learned as anything else. Empty where nothing is
    lost.
    """
    words = lesson.heard.split()
    spoken: dict[str, list[Phrase]] = {}
    for phrase in vocabulary.phrases:
        if not phrase.misheard:
            spoken.setdefault(key(phrase.text.split()), []).append(phrase)
    for begin, end in _runs(len(words)):
        whole = end - begin == len(words)
        for phrase in spoken.get(key(words[begin:end]), ()):
            if not _is_meant(phrase, lesson) and (whole or _is_lost(phrase, lesson)):
                said = _said(phrase)
                return said if whole else _held(lesson, phrase, said)
    if _is_counted(words):
        return worded("people say “{words}” for a number", words=lesson.heard)
    return ""


def makes_findings(lesson: Lesson) -> str:
    """Why the words must not be learned: they are one everyday word, and say what is there.

    A place alone makes no finding; a fault makes one wherever a place is carried. Empty otherwise.
    """
    if lesson.slot in _PLACES or not is_everyday(lesson.heard.split()):
        return ""
    return worded(
        "“{words}” is an everyday word, and would turn talk into findings", words=lesson.heard
    )


def phrases_with(lesson: Lesson, vocabulary: Vocabulary) -> Iterator[str]:
    """Phrases that people say for something else and that hold the words."""
    spelt = key(lesson.heard.split())
    others = (p.text for p in vocabulary.phrases if not p.misheard and not _is_meant(p, lesson))
    return (text for text in others if spelt in key(text.split()) and holds(lesson.heard, text))


def samples(lesson: Lesson) -> Iterator[str]:
    """Bundled sentences that hold the words; none where the installation has lost them."""
    return (text for text in _sample_texts() if holds(lesson.heard, text))


def holds(words: str, text: str) -> bool:
    """The words stand in the text, whatever their endings and wherever they are cut."""
    spelt = key(words.split())
    return any(_begins(said, spelt) for said in _tails(text))


def _tails(text: str) -> Iterator[Sequence[str]]:
    """The folded words of a text from each of them on."""
    said = [fold(token.text) for token in tokenise(Hypothesis(text))]
    return (said[at:] for at in range(len(said)))


def _begins(said: Sequence[str], spelt: str) -> bool:
    """Whole words at the beginning make the spelling."""
    so_far = ""
    for word in said:
        so_far += word
        if len(so_far) >= len(spelt):
            break
    return so_far == spelt


@cache
def _sample_texts() -> tuple[str, ...]:
    with suppress(InputFault, OSError, ValueError, KeyError):
        manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
        return tuple(str(utterance["text"]) for utterance in manifest["utterances"])
    return ()


def _runs(length: int) -> Iterator[tuple[int, int]]:
    """All stretches, the whole first."""
    for size in range(length, 0, -1):
        yield from ((begin, begin + size) for begin in range(length - size + 1))


def _is_counted(words: Sequence[str]) -> bool:
    """All of it is a number, or a unit."""
    ends = (number_at(words, 0), ordinal_at(words, 0), unit_at(words, 0))
    return any(found is not None and found.end == len(words) for found in ends)


def _is_meant(phrase: Phrase, lesson: Lesson) -> bool:
    return (phrase.slot, phrase.value) == (lesson.slot, lesson.value)


def _is_lost(phrase: Phrase, lesson: Lesson) -> bool:
    """It says more than talk, and what was really said does not say it."""
    return phrase.slot not in _HARMLESS and not holds(phrase.text, lesson.say)


def _said(phrase: Phrase) -> Worded:
    """What people say it for."""
    if phrase.slot in TALK:
        return worded("people say “{phrase}” in ordinary talk", phrase=phrase.text)
    named = phrase.slot.replace("_", " ").replace("-", " ")
    meaning = named if phrase.slot == phrase.value else f"{named} {phrase.value}"
    return worded("people say “{phrase}” for {meaning}", phrase=phrase.text, meaning=meaning)


def _held(lesson: Lesson, phrase: Phrase, said: str) -> Worded:
    return worded(
        "“{words}” holds “{phrase}”, and {said}",
        words=lesson.heard,
        phrase=phrase.text,
        said=said,
    )
