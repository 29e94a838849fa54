"""``voicelog erase`` in lines of text: what is to go, what stays, and what nobody can promise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from voicelog.cli.paragraphs import line_width, paragraph, say
from voicelog.domain.inert import inert
from voicelog.journal.naming import JOURNAL
from voicelog.tongue import to_word, worded, worded_many

if TYPE_CHECKING:
    from voicelog.runtime.erasing import Going, Gone
    from voicelog.runtime.erasing_all import Whole
    from voicelog.runtime.review import Review

HONESTLY = to_word(
    "{whose} overwritten and taken away. A solid-state disk, a snapshot of the file system, a"
    " backup or a synchronised folder may keep the old bytes all the same; voicelog cannot see that."
)


def show_sound(going: Going, folder: Path) -> None:
    """What would go, and what is gone already."""
    for name in going.already:
        say(worded("{name}: its sound was erased before", name=name))
    for name in going.silent:
        say(worded("{name}: there is no sound of it", name=name))
    if going.lines or going.files:
        say(worded("To be erased: {counted} of sound", counted=_counted(len(going.files))))
    for path in going.files:
        say(f"  {inert(path.relative_to(folder).as_posix())}")


def show_signed(review: Review) -> None:
    """That a signed log was changed after signing."""
    signatures = review.signatures()
    if signatures:
        by = inert(signatures[-1].by)
        say(
            worded(
                "The log was signed by {by}; it shows now that it was changed after signing.", by=by
            )
        )


def show_whole(whole: Whole) -> None:
    """What belongs to an inspection, and what does not."""
    words = worded(", its words among them") * (whole.folder / JOURNAL in whole.files)
    say(
        worded(
            "To be erased: {counted} of {folder}{words}",
            counted=_counted(len(whole.files)),
            folder=inert(whole.folder.name),
            words=words,
        )
    )
    for name in whole.others:
        say("  " + worded("not the log's own, and left where it is: {name}", name=inert(name)))
    show_beside(whole.beside)


def show_beside(beside: Sequence[Path]) -> None:
    """What holds words or sound of the log and lies outside it."""
    for path in beside:
        say(
            "  "
            + worded("holds some of it too, outside it, and left: {path}", path=inert(str(path)))
        )


def show_gone(gone: Gone) -> None:
    """What was erased, and what nobody can promise."""
    say(worded("Erased: {counted}.", counted=_counted(gone.files)))
    for line in _honestly(gone):
        say(line)


def _counted(files: int) -> str:
    return worded_many("{count} file", "{count} files", files)


def _honestly(gone: Gone) -> Iterator[str]:
    if gone.kept_bytes:
        names = ", ".join(map(inert, gone.kept_bytes))
        told = worded(
            "Taken away without being overwritten (another name, or no leave to write): {names}",
            names=names,
        )
        yield from paragraph("", told, line_width())
    overwritten = gone.files - len(gone.kept_bytes)
    if overwritten:
        whose = worded("The others were") if gone.kept_bytes else worded("What was erased was")
        yield from paragraph("", worded(HONESTLY, whose=whose), line_width())
    yield from paragraph(
        "", worded("Copies and exports elsewhere, and what was learned from corrections, are not in the log's folder: erase them yourself."), line_width(),
    )  # fmt: skip
