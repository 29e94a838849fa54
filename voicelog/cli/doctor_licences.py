"""``voicelog doctor --licences``: whose work this is made of, and on what terms."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from voicelog.cli.paragraphs import line_width, paragraph
from voicelog.runtime.third_parties import CARRIED, MODELS, Work, installed_works
from voicelog.tongue import worded


def licence_lines() -> Iterator[str]:
    """A line for each work: its name, its licence, and what else there is to know."""
    yield worded("voicelog itself: Apache-2.0")
    yield ("\n" + worded("Carried in it"))
    yield from _lines(CARRIED)
    yield ("\n" + worded("Models and voices"))
    yield from _lines(MODELS)
    yield ("\n" + worded("Installed beside it (the texts lie in each package's .dist-info folder)"))
    yield from _lines(installed_works())


def _lines(works: Iterable[Work]) -> Iterator[str]:
    for work in works:
        yield f"  {work.name} {work.version}".rstrip() + f": {work.licence}"
        if work.note:
            yield from paragraph("    ", work.note, line_width())
