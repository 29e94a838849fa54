"""The check of the spoken vocabulary: it loads, nothing twice, and what an ear cannot hear."""

from __future__ import annotations

from dataclasses import dataclass

from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.errors import EarFault
from voicelog.recognise.lookup import open_ear, unknown_words


@dataclass(frozen=True, slots=True)
class WordsReport:
    """What the check found.

    Args:
        phrases: how many can be understood.
        words: how many different words they are made of.
        ear: the recogniser asked, empty when there is none.
        unheard: words it can never write; None when there is no ear to ask.
        files: the grammar files in force.
    """

    phrases: int
    words: int
    ear: str
    unheard: tuple[str, ...] | None
    files: tuple[str, ...]


def check_words(settings: Settings) -> WordsReport:
    """Load the grammar in force and ask the ear about its words.

    Raises:
        GrammarFault: listing every fault of every file.
    """
    grammar = load_grammar(settings.map, overlays=settings.overlays)
    spoken = grammar.vocabulary.spoken()
    words = tuple(sorted({word for phrase in spoken for word in phrase.split()}))
    ear, unheard = _unheard(settings, spoken)
    return WordsReport(
        len(grammar.vocabulary.phrases), len(words), ear, unheard, tuple(grammar.files)
    )


def _unheard(settings: Settings, spoken: tuple[str, ...]) -> tuple[str, tuple[str, ...] | None]:
    try:
        ear = open_ear(settings.ear, phrases=spoken, model=settings.model)
    except EarFault as fault:
        return f"none ({fault.message})", None
    try:
        return ear.engine, unknown_words(ear, spoken)
    finally:
        ear.close()
