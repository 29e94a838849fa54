"""``voicelog erase`` in lines of text: what is to go, what stays, and what nobody can promise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from voicelog.cli.paragraphs import line_width, paragraph, say
from voicelog.domain.inert import inert
from voicelog.journal.naming import JOURNAL

if TYPE_CHECKING:
    from voicelog.runtime.erasing import Going, Gone
    from voicelog.runtime.erasing_all import Whole
    from voicelog.runtime.review import Review

HONESTLY = (
    "{} overwritten and taken away. A solid-state disk, a snapshot of the file system, a"
    " backup or a synchronised folder may keep the old bytes all the same; voicelog cannot see that."
)


def show_sound(going: Going, folder: Path) -> None:
    """What would go, and what is gone already."""
    for name in going.already:
        say(f"{name}: its sound was erased before")
    for name in going.silent:
        say(f"{name}: there is no sound of it")
    if going.lines or going.files:
        say(f"To be erased: {_counted(len(going.files))} of sound")
    for path in going.files:
        say(f"  {inert(path.relative_to(folder).as_posix())}")


def show_signed(review: Review) -> None:
    """That a signed log was changed after signing."""
    signatures = review.signatures()
    if signatures:
        by = inert(signatures[-1].by)
        say(f"The log was signed by {by}; it shows now that it was changed after signing.")


def show_whole(whole: Whole) -> None:
    """What belongs to an inspection, and what does not."""
    words = ", its words among them" * (whole.folder / JOURNAL in whole.files)
    say(f"To be erased: {_counted(len(whole.files))} of {inert(whole.folder.name)}{words}")
    for name in whole.others:
        say(f"  not the log's own, and left where it is: {inert(name)}")
    show_beside(whole.beside)


def show_beside(beside: Sequence[Path]) -> None:
    """What holds words or sound of the log and lies outside it."""
    for path in beside:
        say(f"  holds some of it too, outside it, and left: {inert(str(path))}")


def show_gone(gone: Gone) -> None:
    """What was erased, and what nobody can promise."""
    say(f"Erased: {_counted(gone.files)}.")
    for line in _honestly(gone):
        say(line)


def _counted(files: int) -> str:
    return "1 file" if files == 1 else f"{files} files"


def _honestly(gone: Gone) -> Iterator[str]:
    if gone.kept_bytes:
        names = ", ".join(map(inert, gone.kept_bytes))
        told = f"Taken away without being overwritten (another name, or no leave to write): {names}"
        yield from paragraph("", told, line_width())
    overwritten = gone.files - len(gone.kept_bytes)
    if overwritten:
        whose = "The others were" if gone.kept_bytes else "What was erased was"
        yield from paragraph("", HONESTLY.format(whose), line_width())
    yield from paragraph(
        "", "Copies and exports elsewhere, and what was learned from corrections, are not in the"
        " log's folder: erase them yourself.", line_width(),
    )  # fmt: skip
