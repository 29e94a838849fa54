"""The vocabulary that is in force now, fitted to a log that was made with its own."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from voicelog.config.cache import checked_grammar
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.fact import Fact
from voicelog.errors import UsageFault
from voicelog.journal.grammar import kept_grammar
from voicelog.tongue import to_word, worded

OTHER_LANGUAGE = to_word(
    "The words in force now have little in common with the log's own, so the log's own were used; "
    "name others with --grammar"
)


def words_then(folder: Path, opened: Fact, then: Settings) -> Grammar:
    """The log's own words, map and rules.

    Args:
        folder: the log's.
        opened: its first fact.
        then: settings with the log's own map and attention word.

    Raises:
        LogFault: the log's copy was altered.
        GrammarFault: it cannot be used.
    """
    return checked_grammar(replace(then, grammar=kept_grammar(folder, opened), overlays=()))


def words_now(folder: Path, opened: Fact, then: Settings, own: Grammar) -> tuple[Grammar, str]:
    """The words in force now with the log's map, and a remark on them, empty where there is none.

    Args:
        folder: the log's.
        opened: its first fact.
        then: settings in force now with the log's own map.
        own: the log's own words.

    Raises:
        UsageFault: the grammar folder is not there.
        GrammarFault: anything is wrong with the files.
    """
    try:
        now = checked_grammar(then)
    except UsageFault:  # a map of the shop's own that lies elsewhere now: the log has a copy
        copy = kept_grammar(folder, opened) / "maps" / f"{then.map}.toml"
        now = checked_grammar(replace(then, map=str(copy)))
    if then.grammar is None and not _akin(own, now):
        return own, worded(OTHER_LANGUAGE)
    return now, ""


def _akin(own: Grammar, now: Grammar) -> bool:
    """At least half of the log's phrases are known now."""
    said = {phrase.text for phrase in own.vocabulary.phrases}
    known = {phrase.text for phrase in now.vocabulary.phrases}
    return 2 * len(said & known) >= len(said)
