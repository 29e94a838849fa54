"""The last gate before a terminal: no text steers it, and no line is wider than it is.

Text is made harmless where it is put into words. This sees to it once more, so that a place where
that was forgotten shows a "?" and no more. Colours are rich's own and pass.
"""

from __future__ import annotations

import errno
import sys
from collections.abc import Iterator
from typing import Any

from rich.console import Console, ConsoleOptions, ConsoleRenderable, RenderHook, RenderResult
from rich.segment import Segment
from rich.text import Text

from voicelog.cli.paragraphs import breaks, hang
from voicelog.domain.inert import inert


class _Cleaned:
    """Something to print, its text made harmless once it is laid out."""

    def __init__(self, shown: ConsoleRenderable) -> None:
        self._shown = shown

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        yield from map(_clean, console.render(self._shown, options))


class _Hung:
    """Lines of text, each broken between words, going on where :func:`hang` has it."""

    def __init__(self, text: Text) -> None:
        self._text = text

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        for line in self._text.split("\n", allow_blank=True):
            yield from _fitting(line, options.max_width)


def _fitting(line: Text, width: int) -> Iterator[Text]:
    line.no_wrap, line.overflow = True, "ignore"  # a word longer than a line is left whole
    if line.cell_len <= width:
        yield line
        return
    into = hang(line.plain, width)
    for number, (start, end) in enumerate(breaks(line.plain, width, into)):
        part = line[start:end]
        part.no_wrap, part.overflow = True, "ignore"
        yield Text.assemble(" " * into, part, no_wrap=True, overflow="ignore") if number else part


class Gate(RenderHook):
    """Every print of a console passes it.

    Args:
        hangs: lines that are too wide are broken between words.
    """

    def __init__(self, *, hangs: bool) -> None:
        self._hangs = hangs

    def process_renderables(self, renderables: list[ConsoleRenderable]) -> list[ConsoleRenderable]:
        """What is printed instead."""
        return [_Cleaned(self._hung(shown)) for shown in renderables]

    def _hung(self, shown: ConsoleRenderable) -> ConsoleRenderable:
        return _Hung(shown) if self._hangs and isinstance(shown, Text) else shown


class _Unhurried(Console):
    """Does not end the process by itself: a log may have to be closed first."""

    def on_broken_pipe(self) -> None:
        """Nobody reads any more."""
        raise BrokenPipeError(errno.EPIPE, "Nobody reads the output")

    def print(self, *objects: Any, **how: Any) -> None:
        """As the library does, but what is wider than the terminal is never cut off."""
        super().print(*objects, **{"crop": False, **how})


def inert_console(*, stderr: bool = False) -> Console:
    """A console for lines of text; no colour where NO_COLOR is set or nobody looks at a terminal.

    On a terminal lines end between words; elsewhere they stay whole, for other programs.
    """
    looked_at = (sys.stderr if stderr else sys.stdout).isatty()
    console = _Unhurried(highlight=False, soft_wrap=not looked_at, stderr=stderr)
    console.push_render_hook(Gate(hangs=looked_at))
    return console


def _clean(segment: Segment) -> Segment:
    text = segment.text
    if segment.control or text.isprintable():
        return segment
    return Segment("\n".join(_pieces(text)), segment.style)


def _pieces(text: str) -> Iterator[str]:
    yield from map(inert, text.split("\n"))
