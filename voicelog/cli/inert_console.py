"""The last gate before a terminal: whatever text a console is given, none of it can steer it.

Text is made harmless where it is put into words. This sees to it once more, so that a place where
that was forgotten shows a "?" and no more. Colours are rich's own and pass.
"""

from __future__ import annotations

import errno
import sys
from collections.abc import Iterator

from rich.console import Console, ConsoleOptions, ConsoleRenderable, RenderHook, RenderResult
from rich.segment import Segment

from voicelog.domain.inert import inert


class _Cleaned:
    """Something to print, its text made harmless once it is laid out."""

    def __init__(self, shown: ConsoleRenderable) -> None:
        self._shown = shown

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        yield from map(_clean, console.render(self._shown, options))


class _Gate(RenderHook):
    """Every print of a console passes it."""

    def process_renderables(self, renderables: list[ConsoleRenderable]) -> list[ConsoleRenderable]:
        return list(map(_Cleaned, renderables))


class _Unhurried(Console):
    """Does not end the process by itself: a log may have to be closed first."""

    def on_broken_pipe(self) -> None:
        """Nobody reads any more."""
        raise BrokenPipeError(errno.EPIPE, "Nobody reads the output")


def inert_console(*, stderr: bool = False) -> Console:
    """A console for lines of text; no colour where NO_COLOR is set or nobody looks at a terminal.

    On a terminal lines end between words; elsewhere they stay whole, for other programs.
    """
    looked_at = (sys.stderr if stderr else sys.stdout).isatty()
    console = _Unhurried(highlight=False, soft_wrap=not looked_at, stderr=stderr)
    console.push_render_hook(_Gate())
    return console


def _clean(segment: Segment) -> Segment:
    text = segment.text
    if segment.control or text.isprintable():
        return segment
    return Segment("\n".join(_pieces(text)), segment.style)


def _pieces(text: str) -> Iterator[str]:
    yield from map(inert, text.split("\n"))
