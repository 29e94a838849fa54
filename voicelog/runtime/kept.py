"""Every place of this machine where voicelog keeps something: how much, and who else can read it.

Whatever makes the program write to a new place belongs into :func:`kept_here`; a test compares this
list with what an inspection, a correction and a report really leave behind.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from voicelog.config.machine import machine_file
from voicelog.config.settings import Settings, default_user_file
from voicelog.config.short_cut import cache_home
from voicelog.journal.lock import stand_in_folder, stand_ins
from voicelog.recognise.vosk_models import cache_folder as vosk_folder
from voicelog.tongue import to_word, worded

NEVER_KEPT = (
    to_word("what is said in stand-by, as words or as sound"),
    to_word("sound that belongs to no utterance"),
    to_word("where a picture was taken"),
)
"""What no place holds."""

NEVER_SENT = (
    to_word(
        "nothing leaves this machine: no sound, no words, no counts, no question for a newer version"
    ),
    to_word("only voicelog model get uses the network, and it only fetches"),
)
"""What the network never sees."""

_ENTER = stat.S_IXGRP | stat.S_IXOTH
_READ = stat.S_IRGRP | stat.S_IROTH


@dataclass(frozen=True, slots=True)
class Kept:
    """What lies at one place.

    Args:
        name: what it is called.
        at: the file or folder.
        holds: what is in it, and how to be rid of it.
        files: how many there are; 0 where nothing is kept yet.
        size_bytes: of all of them.
        readable: those that another user of this machine could read, as far as file modes tell.
    """

    name: str
    at: Path
    holds: str
    files: int = 0
    size_bytes: int = 0
    readable: tuple[Path, ...] = ()


def kept_here(settings: Settings) -> Iterator[Kept]:
    """Every place in which these settings let voicelog keep something, private things first.

    Logs that were written elsewhere (``--into``) are not looked for.
    """
    file = default_user_file()
    learned = settings.learned or file.parent
    yield _kept(
        "logs", settings.into, worded("voices, words, findings; to erase: voicelog erase LOG")
    )
    yield _kept(
        "learned", learned, worded("words put right, each with the sentence it came from; to take back: "
        "voicelog words learned --remove"), sorted(learned.glob("learned-*.toml")),
    )  # fmt: skip
    yield _kept("settings", file, worded("what you wrote there yourself"))
    yield _kept(
        "remembered", machine_file(), worded("microphone and bias; may be deleted at any time")
    )
    yield _kept(
        "cache",
        cache_home(),
        worded("grammars checked before, and how far which log was; may be deleted at any time"),
    )
    yield _kept("models", vosk_folder(), worded("fetched by voicelog model get; nothing of yours"))
    yield _kept(
        "locks",
        stand_in_folder(),
        worded("which log is open, on disks without locks; empty files"),
        stand_ins(),
    )


def _kept(name: str, at: Path, holds: str, roots: Iterable[Path] | None = None) -> Kept:
    files, size, readable = 0, 0, list[Path]()
    for root in (at,) if roots is None else roots:
        for path, found, reached in _files(root, reached=_reached(root)):
            files, size = files + 1, size + found.st_size
            if reached and found.st_mode & _READ:
                readable.append(path)
    return Kept(name, at, holds, files, size, tuple(readable))


def _files(path: Path, *, reached: bool) -> Iterator[tuple[Path, os.stat_result, bool]]:
    """Every file at or below a path, links left out, and whether others get as far as its folder."""
    try:
        found = path.lstat()
        inside = sorted(path.iterdir()) if stat.S_ISDIR(found.st_mode) else []
    except OSError:  # not there, or not ours to look into: then nothing of ours lies in it
        return
    if stat.S_ISREG(found.st_mode):
        yield path, found, reached
    for one in inside:
        yield from _files(one, reached=reached and bool(found.st_mode & _ENTER))


def _reached(path: Path) -> bool:
    """True where the modes of all folders above let others through; on Windows modes tell nothing."""
    if os.name == "nt":
        return False
    try:
        return all(folder.stat().st_mode & _ENTER for folder in path.absolute().parents)
    except OSError:
        return False
