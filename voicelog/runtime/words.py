"""The check of the spoken vocabulary: it loads, nothing twice, and what an ear cannot hear."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from voicelog.config.grammar import grammar_in_force
from voicelog.config.settings import Settings
from voicelog.domain.reading import TALK, Vocabulary
from voicelog.errors import EarFault
from voicelog.recognise.lookup import open_ear, spelling_for
from voicelog.recognise.vosk_words import Respelt
from voicelog.runtime.clashes import LEAST, Clash, Known, clashes, known
from voicelog.tongue import to_word, worded

_Meaning = tuple[str, str]
"""Slot and value."""

ONLY_TALK = to_word("needs nothing, it is only talk")
"""What stands for words that are said beside findings."""


@dataclass(frozen=True, slots=True)
class WordsReport:
    """What the check found.

    Args:
        phrases: how many can be understood.
        words: how many different words they are made of.
        ear: the recogniser asked, empty when there is none.
        unheard: words it can never write and nothing stands for; None when there is no ear to ask.
        files: the grammar files in force.
        clashes: phrases that sound alike, the shop's own before all others.
        known: words that recognisers are known to confuse.
        least: likeness from which phrases sound alike.
        instead: each other word that it can never write, and what is said and heard for it.
    """

    phrases: int
    words: int
    ear: str
    unheard: tuple[str, ...] | None
    files: tuple[str, ...]
    clashes: tuple[Clash, ...] = ()
    known: tuple[Known, ...] = ()
    least: float = LEAST
    instead: tuple[tuple[str, str], ...] = ()


def check_words(settings: Settings, least: float = LEAST) -> WordsReport:
    """Load the grammar in force, look for phrases that sound alike, and ask the ear.

    Args:
        settings: in force.
        least: likeness of sound from which a pair is told, 0 to 1.

    Raises:
        GrammarFault: listing every fault of every file.
    """
    from voicelog.config.pointers import with_pointers  # pydantic's models start slowly

    grammar = grammar_in_force(settings)
    with_pointers(grammar.rules)  # read only where they are asked for, so checked here
    spoken = grammar.vocabulary.spoken()
    words = tuple(sorted({word for phrase in spoken for word in phrase.split()}))
    ear, spelling = _unheard(settings, spoken)
    unknown = spelling.unknown if spelling is not None else None
    others = other_forms(grammar.vocabulary, unknown or ())
    instead = {**(spelling.instead if spelling is not None else {}), **others}
    found = clashes(grammar, len(settings.overlays), least)
    return WordsReport(
        len(grammar.vocabulary.phrases), len(words), ear, _left(unknown, others), tuple(grammar.files), found,
        known(grammar), least, tuple(instead.items()),
    )  # fmt: skip


def _unheard(settings: Settings, spoken: tuple[str, ...]) -> tuple[str, Respelt | None]:
    """The ear asked, and the vocabulary in its words; None when there is no ear."""
    try:
        ear = open_ear(settings.ear, phrases=spoken, model=settings.model)
    except EarFault as fault:
        return worded("none ({fault})", fault=fault.message), None
    try:
        return ear.engine, spelling_for(ear)
    finally:
        ear.close()


def _left(unknown: tuple[str, ...] | None, others: Mapping[str, str]) -> tuple[str, ...] | None:
    """The words that nothing stands for."""
    return None if unknown is None else tuple(word for word in unknown if word not in others)


def other_forms(vocabulary: Vocabulary, unknown: Iterable[str]) -> dict[str, str]:
    """Each word with another phrase for it, where whatever can be said with it can be said without.

    Args:
        vocabulary: in force.
        unknown: words that an ear can never write.
    """
    lost: dict[str, str] = dict.fromkeys(unknown, worded(ONLY_TALK))
    said = [p for p in (*vocabulary.phrases, *vocabulary.header) if not p.misheard]
    heard: dict[_Meaning, str] = {}
    silent: dict[str, dict[_Meaning, None]] = {}
    for phrase in sorted(said, key=lambda phrase: len(phrase.text)):
        gone = lost.keys() & phrase.text.split()
        if not gone:
            heard.setdefault((phrase.slot, phrase.value), phrase.text)
        for word in gone if phrase.slot not in TALK else ():
            silent.setdefault(word, {})[phrase.slot, phrase.value] = None
    for word, meanings in silent.items():
        lost[word] = heard[next(iter(meanings))] if heard.keys() >= meanings.keys() else ""
    return {word: instead for word, instead in lost.items() if instead}
