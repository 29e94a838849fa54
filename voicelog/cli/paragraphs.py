"""Long sentences on a terminal: in lines that stand below each other, broken between words."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from textwrap import wrap

WIDEST = 100
"""Characters of a line, however wide the terminal (ours)."""


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
