"""Faults of hand-written files: each with its file, line, key and the nearest valid name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from voicelog.errors import GrammarFault
from voicelog.tongue import NOTHING, Worded, joined, reworded, worded, worded_many


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong.

    Args:
        file: the file's name as the person knows it; empty for what was not in a file.
        line: counted from 1.
        key: the key concerned, outer names first.
        message: what is wrong with it.
    """

    file: str
    line: int
    key: str
    message: str

    def __str__(self) -> Worded:
        where = f"{self.file}:{self.line}" if self.file else ""
        shown = (reworded(part, _short) for part in (where, self.key, self.message))
        return joined(": ", filter(None, shown))


_LONGEST = 400
"""Characters of a part of a fault: a key or a value may have a million."""

_MOST = 200
"""Faults that are listed; the rest are counted."""


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"


def did_you_mean(word: str, names: Iterable[str], cutoff: float = 0.6) -> Worded:
    """A suggestion to put behind a message, empty when nothing is near.

    Args:
        word: what was written.
        names: what could have been written.
        cutoff: smallest likeness of a suggestion, 0 to 1.
    """
    import difflib  # only faults need it

    spelt = {str(name).lower(): str(name) for name in sorted(names)}
    near = difflib.get_close_matches(word.lower(), spelt, n=1, cutoff=cutoff)
    return worded(" (did you mean {near}?)", near=repr(spelt[near[0]])) if near else NOTHING


def refuse(faults: Sequence[Fault], what: Worded, hint: Worded) -> None:
    """Raise every fault at once, in the order of files and lines; nothing to raise, nothing done.

    Raises:
        GrammarFault: when there is at least one fault.
    """
    if not faults:
        return
    ordered = sorted(dict.fromkeys(faults), key=lambda fault: (fault.file, fault.line))
    listed = [fault.__str__() for fault in ordered[:_MOST]]
    left_out = len(ordered) - _MOST
    more = [worded("and {count} more", count=left_out)] if left_out > 0 else []
    raise GrammarFault(
        worded_many("{count} fault in {what}", "{count} faults in {what}", len(ordered), what=what),
        hint,
        (*listed, *more),
    )
