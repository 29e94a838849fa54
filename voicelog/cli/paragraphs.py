"""Lines for people: broken between words where a terminal ends, what goes on stands further in.

Nothing is broken where nobody looks at a terminal: a line is a line there, for other programs.
"""

from __future__ import annotations

import re
import shutil
import sys
from collections.abc import Iterator
from textwrap import wrap
from unicodedata import combining, east_asian_width

import click

WIDEST = 100
"""Characters of a line of prose, however wide the terminal (ours)."""

_LEAST = 20
"""Columns that are left for what goes on; where a beginning leaves fewer, it goes on further left."""

_SHORT = 9
"""Characters of a name, with its colon and blank, that stands in no column: the id of an entry."""

_MARK = re.compile(r" *(?:[-!*•·>?…]|\d+[.)]) +")
_NAME = re.compile(r"( *)[^\s:][^:]{0,18}:( +)")


def line_width() -> int:
    """Characters of a line, as the terminal or the variable COLUMNS allows; 80 without either."""
    return min(WIDEST, shutil.get_terminal_size().columns)


def paragraph(begin: str, text: str, width: int) -> Iterator[str]:
    """The lines of a sentence; an empty one where it is empty.

    Args:
        begin: what stands in front; the second line and all others stand as far in.
        text: the sentence, inert. A word longer than a line is left whole.
        width: characters of a line.
    """
    yield from wrap(
        text, width, initial_indent=begin, subsequent_indent=" " * len(begin),
        break_long_words=False, break_on_hyphens=False,
    ) or ("",)  # fmt: skip


def say(text: str = "", *, err: bool = False, into: int | None = None) -> None:
    """Print a line, or several parted by line feeds, for a person.

    Args:
        text: inert.
        err: on standard error.
        into: where the column begins in which it goes on; as :func:`hang` has it when left out.
    """
    stream = sys.stderr if err else sys.stdout
    if stream is None or not stream.isatty():
        click.echo(text, err=err)
        return
    width = shutil.get_terminal_size().columns
    for line in text.split("\n"):
        click.echo("\n".join(hung(line, width, into)), err=err)


def hung(line: str, width: int, into: int | None = None) -> Iterator[str]:
    """A line as lines that fit, none of its words cut: one longer than a line is left whole.

    Args:
        line: with the blanks, mark and name that it begins with.
        width: columns of the terminal.
        into: where it goes on, unless that leaves too little room.
    """
    if columns(line) <= width:
        yield line
        return
    into = hang(line, width) if into is None or into > width - _LEAST else into
    for number, (start, end) in enumerate(breaks(line, width, into)):
        yield (" " * into if number else "") + line[start:end]


def hang(line: str, width: int) -> int:
    """How far in a line goes on that does not fit.

    Behind the mark of a list, or behind a name in its column; two further in than it began where it
    has neither; not at all where it begins at the left, as prose does.
    """
    lead = len(line) - len(line.lstrip(" "))
    mark, name = _MARK.match(line), _NAME.match(line)
    if mark is not None:
        into = mark.end()
    elif name is not None and (len(name[2]) > 1 or (lead and len(name[0]) - lead <= _SHORT)):
        into = columns(name[0])
    else:
        into = lead + 2 if lead else 0
    return into if into <= width - _LEAST else min(lead + 2, max(0, width - _LEAST))


def breaks(line: str, width: int, into: int) -> Iterator[tuple[int, int]]:
    """Where each line that fits begins and ends in the long one; the blank between belongs to none.
    A word too long for any line stays where it is.

    Args:
        line: with words parted by blanks.
        width: columns of the terminal.
        into: columns in front of every line but the first.
    """
    begun = len(line) - len(line.lstrip(" "))
    start, end, used = 0, begun, begun
    for word in re.finditer(r"\S+", line):
        more = columns(line[end : word.end()])
        fits = columns(word[0]) <= width - into  # else it is no better off on a line of its own
        if used + more > width and fits and end > max(start, begun):
            yield start, end
            start, used, more = word.start(), into, columns(word[0])
        end, used = word.end(), used + more
    yield start, len(line)


def columns(text: str) -> int:
    """How many a terminal gives it: two for wide characters, none for what stands over another."""
    if text.isascii():
        return len(text)
    return sum(0 if combining(c) else 2 if east_asian_width(c) in "WF" else 1 for c in text)
