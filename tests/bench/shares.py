"""Tables as text."""

from __future__ import annotations

from collections.abc import Sequence


def grid(rows: Sequence[Sequence[str]]) -> str:
    """Rows in columns, for a terminal."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = (
        "  ".join(text.ljust(width) for text, width in zip(row, widths, strict=True))
        for row in rows
    )
    return "\n".join(line.rstrip() for line in lines)


def markdown(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Rows as a Markdown table."""
    lines = [head, ["---"] + ["---:"] * (len(head) - 1), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)
