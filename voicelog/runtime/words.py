"""The check of the spoken vocabulary: it loads, nothing twice, and what an ear cannot hear."""

from __future__ import annotations

from dataclasses import dataclass

from voicelog.config.grammar import grammar_in_force
from voicelog.config.settings import Settings
from voicelog.errors import EarFault
from voicelog.recognise.lookup import open_ear, unknown_words
from voicelog.runtime.clashes import LEAST, Clash, Known, clashes, known


@dataclass(frozen=True, slots=True)
class WordsReport:
    """What the check found.

    Args:
        phrases: how many can be understood.
        words: how many different words they are made of.
        ear: the recogniser asked, empty when there is none.
        unheard: words it can never write; None when there is no ear to ask.
        files: the grammar files in force.
        clashes: phrases that sound alike, the shop's own before all others.
        known: words that recognisers are known to confuse.
        least: likeness from which phrases sound alike.
    """

    phrases: int
    words: int
    ear: str
    unheard: tuple[str, ...] | None
    files: tuple[str, ...]
    clashes: tuple[Clash, ...] = ()
    known: tuple[Known, ...] = ()
    least: float = LEAST


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
    ear, unheard = _unheard(settings, spoken)
    found = clashes(grammar, len(settings.overlays), least)
    return WordsReport(
        len(grammar.vocabulary.phrases), len(words), ear, unheard, tuple(grammar.files), found,
        known(grammar), least,
    )  # fmt: skip


def _unheard(settings: Settings, spoken: tuple[str, ...]) -> tuple[str, tuple[str, ...] | None]:
    try:
        ear = open_ear(settings.ear, phrases=spoken, model=settings.model)
    except EarFault as fault:
        return f"none ({fault.message})", None
    try:
        return ear.engine, unknown_words(ear, spoken)
    finally:
        ear.close()
