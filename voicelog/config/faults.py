"""Faults of hand-written files: each with its file, line, key and the nearest valid name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from voicelog.errors import GrammarFault


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

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}" if self.file else ""
        shown = (_short(part) for part in (where, self.key, self.message))
        return ": ".join(part for part in shown if part)


_LONGEST = 400
"""Characters of a part of a fault: a key or a value may have a million."""

_MOST = 200
"""Faults that are listed; the rest are counted."""


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"


def did_you_mean(word: str, names: Iterable[str], cutoff: float = 0.6) -> str:
    """A suggestion to put behind a message, empty when nothing is near.

    Args:
        word: what was written.
        names: what could have been written.
        cutoff: smallest likeness of a suggestion, 0 to 1.
    """
    import difflib  # only faults need it

    spelt = {str(name).lower(): str(name) for name in sorted(names)}
    near = difflib.get_close_matches(word.lower(), spelt, n=1, cutoff=cutoff)
    return f" (did you mean {spelt[near[0]]!r}?)" if near else ""


def refuse(faults: Sequence[Fault], what: str, hint: str) -> None:
    """Raise every fault at once, in the order of files and lines; nothing to raise, nothing done.

    Raises:
        GrammarFault: when there is at least one fault.
    """
    if not faults:
        return
    ordered = sorted(dict.fromkeys(faults), key=lambda fault: (fault.file, fault.line))
    number = f"{len(ordered)} fault" + ("s" if len(ordered) > 1 else "")
    listed = [str(fault) for fault in ordered[:_MOST]]
    more = [f"and {len(ordered) - _MOST} more"] if len(ordered) > _MOST else []
    raise GrammarFault(f"{number} in {what}", hint, (*listed, *more))
