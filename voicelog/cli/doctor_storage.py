"""``voicelog doctor``: every place where something is kept, and what is never kept or sent."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

from voicelog.cli.paragraphs import line_width, paragraph
from voicelog.config.settings import Settings
from voicelog.domain.inert import inert
from voicelog.runtime.kept import NEVER_KEPT, NEVER_SENT, Kept, kept_here
from voicelog.tongue import worded, worded_many


def storage_lines(settings: Settings) -> Iterator[str]:
    """Each place with what lies there; then what lies nowhere."""
    for kept in kept_here(settings):
        yield from _place_lines(kept)
    yield ("  " + worded("free where logs go: {free}", free=_free(settings.into)))
    yield from paragraph(
        ("  " + worded("never kept:") + " "), "; ".join(map(worded, NEVER_KEPT)), line_width()
    )
    yield from paragraph(
        ("  " + worded("never sent:") + " "), "; ".join(map(worded, NEVER_SENT)), line_width()
    )


def _place_lines(kept: Kept) -> Iterator[str]:
    yield f"  {kept.name:<10}  {inert(str(kept.at))}"
    yield from paragraph(" " * 14, f"{_amount(kept)}; {kept.holds}", line_width())
    if kept.readable:
        yield from paragraph(" " * 14, _warning(kept), line_width())


def _amount(kept: Kept) -> str:
    if not kept.files:
        return worded("nothing yet")
    size = (
        f"{kept.size_bytes / 1e6:.1f} MB" if kept.size_bytes >= 50_000 else worded("under 0.1 MB")
    )
    return worded_many("{count} file, {size}", "{count} files, {size}", kept.files, size=size)


def _warning(kept: Kept) -> str:
    """The first file that others can read, and the command that ends it."""
    first, more = inert(str(kept.readable[0])), len(kept.readable) - 1
    which = worded("{first} and {more} more", first=first, more=more) if more else first
    return worded(
        "OTHERS ON THIS MACHINE CAN READ {which}. To end that: chmod -R go= {quoted}",
        which=which,
        quoted=_quoted(kept),
    )


def _quoted(kept: Kept) -> str:
    """The one file, or the folder, as a shell takes it."""
    import shlex

    only = kept.readable[0] if len(kept.readable) == 1 else kept.at
    return inert(shlex.quote(str(only)))


def _free(folder: Path) -> str:
    there = next((parent for parent in (folder, *folder.parents) if parent.exists()), Path())
    return f"{shutil.disk_usage(there).free / 1e9:.1f} GB"
