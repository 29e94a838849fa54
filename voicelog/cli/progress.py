"""Progress that can be counted, on standard error."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

Counted = Callable[[int, int], None]
"""Takes how many are done, and how many there are."""


@contextmanager
def counting(what: str, *, shown: bool = True) -> Iterator[Counted]:
    """A bar while somebody looks at a terminal; nothing otherwise.

    Args:
        what: is going on, for example ``listening again``.
        shown: False where nothing may appear.
    """
    if not (shown and sys.stderr.isatty()):
        yield lambda _done, _total: None
        return
    bar = Progress(
        TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(),
        console=Console(stderr=True), transient=True,
    )  # fmt: skip
    with bar:
        whole = bar.add_task(what, total=None)
        yield lambda done, total: bar.update(whole, completed=done, total=total)
