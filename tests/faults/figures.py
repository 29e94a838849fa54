"""What the fault harnesses counted, written into ``tests/faults/REPORT.md``: each part between markers of its own."""

from __future__ import annotations

import platform
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

_ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(_ROOT / "tests" / "bench"))

import page  # noqa: E402

REPORT = Path(__file__).with_name("REPORT.md")


class Row(NamedTuple):
    """One kind of fault.

    Args:
        what: the fault, in words.
        tried: how often it was made to happen.
        came_through: how often nothing acknowledged was lost and the program said what is the matter.
        note: what else a reader should know: what was lost, what the person hears, a figure with its unit.
    """

    what: str
    tried: int
    came_through: int
    note: str = ""


def write(
    part: str, command: str, rows: Sequence[Row], report: Path = REPORT, *, about: str = ""
) -> None:
    """Put the table of a part into the report.

    Args:
        part: its name in the report's markers.
        command: what makes the same table again, from the project's root.
        rows: what was counted.
        report: the file.
        about: what stands over the notes.

    Raises:
        SystemExit: the report has no markers of that name.
    """
    page.write(part, text(command, rows, about), report)


def text(command: str, rows: Sequence[Row], about: str = "") -> str:
    """The table with the day, the machine and the command, as Markdown."""
    told = [f"| {row.what} | {row.tried:,} | {row.came_through:,} | {row.note} |" for row in rows]
    head = [f"| what happened | tried | came through | {about} |", "|---|---:|---:|---|"]
    return "\n".join([f"`{command}` · {date.today().isoformat()} · {_machine()}", "", *head, *told])


def _machine() -> str:
    return f"Python {platform.python_version()}, {platform.system()} {platform.machine()}"
