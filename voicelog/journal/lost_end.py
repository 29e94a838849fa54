"""The end of a journal that is gone, as far as clips and pictures show it.

A clip or picture is written before its line, under its number. So a crash leaves at most one file of a
line to come; whoever finds more of them finds the rest of lines that were acknowledged.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from voicelog.journal.naming import CLIPS, PHOTOS
from voicelog.journal.own_files import own_files
from voicelog.tongue import NOTHING, Worded, worded

MOST_LOST = 1_000
"""Lines behind the last one that a file may speak for; what is further off is no file of the log."""

_NAME = re.compile(rf"(?:{CLIPS}/u|{PHOTOS}/p)([1-9][0-9]{{0,9}})\.[0-9A-Za-z]+")


@dataclass(frozen=True, slots=True)
class Beyond:
    """Files of lines that are gone.

    Args:
        names: path inside the log's folder, in order.
        last: the highest number that one of them has.
    """

    names: tuple[str, ...] = ()
    last: int = 0

    def told(self, end: int) -> Worded:
        """What they show, as a sentence; empty where there are none.

        Args:
            end: the number of the last line that is there.
        """
        if not self.names:
            return NOTHING
        names: str = self.names[0]
        if len(self.names) > 1:
            names = worded("{name} and {count} more", name=names, count=len(self.names) - 1)
        return worded(
            "The journal ends with line {end}, and {names} lie there of later lines: its end is gone",
            end=end,
            names=names,
        )


def names_in(folder: Path) -> tuple[str, ...]:
    """The log's clips and pictures; to be asked for before the journal is read, since somebody may be
    writing both.

    Raises:
        OSError: they cannot be listed.
    """
    return tuple(
        f"{within}/{path.name}" for within in (CLIPS, PHOTOS) for path in own_files(folder, within)
    )


def beyond(names: Iterable[str], end: int) -> Beyond:
    """Those files that belong to lines behind the one that a crash may have kept from being written.

    Args:
        names: clips and pictures.
        end: the number of the last line that is there.
    """
    found = sorted((n, name) for n, name in _numbered(names) if end + 1 < n <= end + MOST_LOST)
    return Beyond(tuple(name for _, name in found), found[-1][0]) if found else Beyond()


def _numbered(names: Iterable[str]) -> Iterator[tuple[int, str]]:
    for name in names:
        match = _NAME.fullmatch(name)
        if match is not None:
            yield int(match[1]), name
