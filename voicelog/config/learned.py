"""What was learned from corrections: written down, listed, and taken back.

Each file is an overlay as any other and in force with the next inspection; see
:mod:`voicelog.config.learned_files` for where they lie and :mod:`voicelog.config.learned_text` for
how they look.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from os.path import lexists
from pathlib import Path

from voicelog.config.document import Document, Read, checked, parse_document, read_document
from voicelog.config.faults import Fault, did_you_mean, refuse
from voicelog.config.learned_files import For, file_name, inspector, learned_files
from voicelog.config.learned_text import Note, note_at, with_lesson, without
from voicelog.config.overlay import OverlayFile, all_phrases
from voicelog.config.phrases import tidy
from voicelog.config.positions import Loc
from voicelog.config.settings import Settings
from voicelog.config.writing import PRIVATE, SHARED, replace_file
from voicelog.domain.lesson import Lesson
from voicelog.errors import GrammarFault, UsageFault
from voicelog.tongue import to_word, worded

_HINT = to_word("Correct the lines below, or move the file away: nothing else needs it")


@dataclass(frozen=True, slots=True)
class Learned:
    """One mishearing that was learned.

    Args:
        heard: the words heard.
        slot: the slot or word class of what they mean.
        value: its value.
        for_: ``shop`` or ``person``.
        file: where it stands.
        line: in that file, from 1.
        note: when, by whom, for which phrase and in which sentence.
    """

    heard: str
    slot: str
    value: str
    for_: For
    file: Path
    line: int
    note: Note


def learned(settings: Settings) -> tuple[Learned, ...]:
    """Everything that was learned for the shop and for the person at the machine, in this order.

    Raises:
        GrammarFault: a file is damaged; it is left alone.
    """
    return tuple(one for path in learned_files(settings) for one, _ in _entries(path, _read(path)))


def learn(
    settings: Settings, lesson: Lesson, *, for_: For, by: str = "", on: date, sentence: str = ""
) -> Path:
    """Write a lesson down, in the place of an earlier one about the same words.

    Args:
        settings: in force; they name the folder and the person.
        lesson: the mishearing.
        for_: whom it is for.
        by: who corrected, and whose file a person's lesson goes to; the person at the machine unless
            given.
        on: the day.
        sentence: the words in which it was misheard.

    Returns:
        The file.

    Raises:
        GrammarFault: the file there is damaged and left alone.
        StorageFault: the folder or the disk refused.
        UsageFault: the settings name no folder.
    """
    person = by or inspector(settings)
    path = _folder(settings) / file_name(for_, person)
    text = _read(path).document.text if lexists(path) else ""
    for one, loc in reversed(_entries(path, _parsed(path, text))):
        text = _taken_out(text, one, loc) if one.heard == lesson.heard else text
    text = with_lesson(text, lesson, by=person, on=on, sentence=sentence)
    _parsed(path, text)
    _write(path, text, for_)
    return path


def unlearn(settings: Settings, heard: str, *, for_: For | None = None) -> tuple[Learned, ...]:
    """Take back what was learned about these words.

    Args:
        settings: in force.
        heard: the words, in any case and spacing.
        for_: only from the shop's file, or the person's; unless given, from both.

    Returns:
        What was taken out.

    Raises:
        UsageFault: nothing was learned about them.
        GrammarFault: a file is damaged, or written so that it has to be changed by hand.
        StorageFault: the folder or the disk refused.
    """
    words = " ".join(heard.lower().split())
    known = [one for one in learned(settings) if for_ in (None, one.for_)]
    gone = tuple(one for one in known if one.heard == words)
    if not gone:
        near = did_you_mean(words, [one.heard for one in known])
        raise UsageFault(
            worded("Nothing was learned about {words}{near}", words=repr(words), near=near),
            worded("voicelog words learned lists all of it"),
        )
    for path in dict.fromkeys(one.file for one in gone):
        _forget(path, words)
    return gone


def _forget(path: Path, words: str) -> None:
    read = _read(path)
    text = read.document.text
    for one, loc in reversed(_entries(path, read)):  # later ones first: earlier keep their place
        text = _taken_out(text, one, loc) if one.heard == words else text
    _write(path, text, _whom(path))


def _taken_out(text: str, one: Learned, loc: Loc) -> str:
    try:
        return without(text, loc)
    except ValueError as fault:
        raise GrammarFault(
            worded(
                "{heard} cannot be taken out of {file} without spoiling it",
                heard=repr(one.heard),
                file=repr(str(one.file)),
            ),
            worded("Delete it by hand at {fault}", fault=fault),
        ) from fault


def _write(path: Path, text: str, for_: For) -> None:
    """A person's words are theirs alone; the shop's may lie where its machines share them."""
    mode = SHARED if for_ == "shop" else PRIVATE
    replace_file(path, text, otherwise=worded("until then it is not learned"), mode=mode)


def _folder(settings: Settings) -> Path:
    if settings.learned is None:
        raise UsageFault(
            worded("There is no folder for what is learned"),
            worded("Name one in settings.toml: learned = ..."),
        )
    return settings.learned


def _whom(path: Path) -> For:
    return "shop" if path.name == file_name("shop") else "person"


def _entries(path: Path, read: Read[OverlayFile]) -> list[tuple[Learned, Loc]]:
    """The mishearings of a file with the way to each, in the order of the file."""
    document = read.document
    found = []
    for loc, phrase, _ in all_phrases(read.sheet):
        if phrase.misheard:
            heard, line = tidy(phrase).text, document.fault(loc, "").line
            note = note_at(document.text, loc)
            one = Learned(heard, phrase.slot, phrase.value, _whom(path), path, line, note)
            found.append((one, loc))
    return sorted(found, key=lambda pair: pair[0].line)


def _read(path: Path) -> Read[OverlayFile]:
    """The file, whole and sound.

    Raises:
        GrammarFault: it is not.
    """
    faults: list[Fault] = []
    return _sound(read_document(path, faults), faults)


def _parsed(path: Path, text: str) -> Read[OverlayFile]:
    """The same from its text."""
    faults: list[Fault] = []
    return _sound(parse_document(text.encode("utf-8", "replace"), str(path), faults), faults)


def _sound(document: Document, faults: list[Fault]) -> Read[OverlayFile]:
    read = checked(document, OverlayFile, faults)
    refuse(faults, worded("what was learned from corrections"), worded(_HINT))
    return read
