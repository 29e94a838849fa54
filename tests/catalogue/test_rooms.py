"""Rooms whose texts for people are all in the catalogue; a new sentence there has to be worded."""

from __future__ import annotations

import ast

import pytest

from tests.architecture.sources import room_of, trees
from tests.catalogue.rooms import sentences

WHOLE = ("announce", "cli", "config", "findings", "journal", "runtime")
"""Rooms without a plain sentence."""

LEFT = {
    "voicelog.announce.announcer": "a sentence that warms up the voice; nobody hears it",
    "voicelog.announce.text": "said by the voice, which speaks English",
    "voicelog.announce.tones": "a rhythm",
    "voicelog.cli.completion": "a shell's script, in comments of its own",
    "voicelog.cli.hearing": "what the journal keeps of an end",
    "voicelog.cli.inert_console": "Python's own name of a fault",
    "voicelog.cli.manual": "the page for man, which is English",
    "voicelog.cli.reading": "what the journal keeps of an end",
    "voicelog.cli.show": "words to say",
    "voicelog.cli.topics": "Markdown of the guide, which is English",
    "voicelog.config.document": "a pattern",
    "voicelog.config.language_page": "shared/GRAMMAR.md",
    "voicelog.config.learned_text": "written into grammar files",
    "voicelog.config.machine": "written into a file",
    "voicelog.config.reference": "shared/GRAMMAR.md",
    "voicelog.config.toml_file": "worded as Python's own parser words what it finds, in English",
    "voicelog.findings.work_list": "compared with rules, which are data",
    "voicelog.journal.joined": "a comment within a sound file",
    "voicelog.runtime.actions": "words to say",
    "voicelog.runtime.bench_view": "a fault of the program itself",
    "voicelog.runtime.both_ears": "a doubt: the journal keeps it",
    "voicelog.runtime.dangers": "a doubt: the journal keeps it",
    "voicelog.runtime.exports": "notes of a VTT file, a document",
    "voicelog.runtime.figures": "a document",
    "voicelog.runtime.recordings": "a value of the figures, a document",
    "voicelog.runtime.review": "a doubt: the journal keeps it",
    "voicelog.runtime.set_up": "answers to say",
    "voicelog.runtime.sheet_files": "a file to fill in",
    "voicelog.runtime.sheet_page": "the page of English sentences, for who reads them aloud",
    "voicelog.runtime.sheet_parts": "words to say",
    "voicelog.runtime.sheet_talk": "sentences to say",
    "voicelog.runtime.spoken": "notes of a VTT file, a document",
    "voicelog.runtime.third_parties": "names and terms of licences",
    "voicelog.runtime.understanding": "a sentence that warms up the reader",
    "voicelog.runtime.waiting_time": "names of figures",
    "voicelog.runtime.warm_up_parts": "words to say",
    "voicelog.runtime.words_page": "the page of words to say; its headings are still to be worded",
}
"""Modules of theirs that keep plain sentences, and why."""

STYLE = "bold "
"""How styles of a terminal begin."""


def plain(module: str) -> list[str]:
    """The sentences of a module that no catalogue has, each with its line."""
    found = sentences(trees()[module])
    return [f"{module}:{line}: {text}" for line, text in found if not text.startswith(STYLE)]


@pytest.mark.parametrize("room", WHOLE)
def test_every_sentence_of_a_room_is_in_the_catalogue(room: str) -> None:
    """Word it, see "a text that people read" in DEVELOPERS.md; or say above why nobody reads it."""
    modules = [name for name in trees() if name.count(".") > 1 and room_of(name) == room]
    assert modules
    assert [one for name in modules if name not in LEFT for one in plain(name)] == []


def test_no_exception_is_left_over() -> None:
    """A module that has no plain sentence any more needs no reason."""
    assert [name for name in LEFT if not plain(name)] == []


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("publish(Noticed('the disk is full'))", True),
        ("publish(Noticed(f'{count} things said are lost'))", True),
        ("told = 'no answer; ' + rest", True),
        ("publish(Noticed(worded('the disk is full')))", False),
        ("NOTE = to_word('the disk is full')", False),
        ("raise ValueError('a clip without sound')", False),
        ("name = 'not-seen'", False),
        ("unit = f'{size:g} mm'", False),
        ("'''A docstring of many words.'''", False),
    ],
)
def test_plain_sentences_are_seen(line: str, found: bool) -> None:
    """The test of the test."""
    assert bool(list(sentences(ast.parse(line)))) is found
