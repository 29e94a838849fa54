"""Markdown as a terminal shows it: headings at the left, code as it stands, so that it can be copied."""

from __future__ import annotations

import io
import shutil
from typing import ClassVar

from rich.console import Console, ConsoleOptions, RenderResult
from rich.markdown import CodeBlock, Heading, Markdown, MarkdownElement
from rich.text import Text

from voicelog.cli.paragraphs import WIDEST

_INDENT = "    "


class _Heading(Heading):
    """At the left, whatever its level: centred, it reads as something of its own."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        text = self.text.copy()
        text.justify = "left"
        yield text


class _Code(CodeBlock):
    """Line by line, never parted: a parted command would be two."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        for line in str(self.text).rstrip().splitlines():
            style = "dim" if line.lstrip().startswith("#") else "bold"
            yield Text(f"{_INDENT}{line}".rstrip(), style, no_wrap=True, overflow="ignore")


class _Page(Markdown):
    """Rich's own, with these two."""

    elements: ClassVar[dict[str, type[MarkdownElement]]] = {
        **Markdown.elements,
        "heading_open": _Heading,
        "fence": _Code,
        "code_block": _Code,
    }


def rendered(markdown: str, *, looked_at: bool) -> str:
    """Text with the terminal's own signs for bold and colour.

    Args:
        markdown: what to show.
        looked_at: False for plain text.
    """
    out = io.StringIO()
    width = min(WIDEST, shutil.get_terminal_size().columns)
    console = Console(file=out, width=width, force_terminal=looked_at, highlight=False)
    console.print(_Page(markdown, hyperlinks=False), crop=False)
    lines = (line.rstrip() for line in out.getvalue().splitlines())
    return "\n".join(lines).strip("\n") + "\n"
