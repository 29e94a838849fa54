"""A sheet put into a folder: to print, for the program, and what a speaker fills in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from voicelog.config.cache import checked_grammar
from voicelog.config.settings import Settings
from voicelog.errors import InputFault, StorageFault
from voicelog.export.json_file import write_bytes, write_json
from voicelog.export.sheet_page import sheet_page_html
from voicelog.runtime.recordings import ABOUT, has_recordings, sheet_in
from voicelog.runtime.sheet_page import sheet_page
from voicelog.runtime.sheet_sentences import draw_sheet
from voicelog.tongue import worded
from voicelog.yardstick.sheet import FILE, Sheet, sheet_to_json

PAGE = "sheet.html"
FIRST, QUIET = "s01", "quiet"
"""Folders that are made for the first speaker."""

FORM = """\
# What the speaker of this folder tells. Leave empty what nobody wants to tell. Never a name.
# It goes into the figures that voicelog measure --json writes.

licence = ""          # "CC BY 4.0" or "CC0 1.0" as ticked on the sheet; empty: the sound is not handed on
agreed_on = ""        # the day, like 2026-03-14
first_language = ""   # in your own words
accent = ""           # likewise: "Glasgow", "learned it at work"
microphone = ""       # "headset with a boom, by cable"
distance_cm = ""      # from the mouth

[noise]               # a line for each folder beside this file: what ran, how far off, dB(A) if measured
quiet = ""
# compressor = "piston compressor two metres off, 78 dB(A) at the head"
"""


def make_sheet(folder: Path, settings: Settings, *, count: int, seed: int) -> Sheet:
    """Draw a sheet from the words in force and write it, with all that is filled in beside it.

    Args:
        folder: made where it is not there.
        settings: in force.
        count: how many sentences.
        seed: draws them.

    Raises:
        InputFault: recordings of another sheet lie there.
        StorageFault: the disk refuses.
    """
    grammar = checked_grammar(settings)
    known = frozenset[str]()
    if settings.overlays:
        shipped = checked_grammar(replace(settings, overlays=()))
        known = frozenset(phrase.text for phrase in shipped.vocabulary.phrases)
    english = settings.grammar is None
    sheet = draw_sheet(grammar, count=count, seed=seed, known=known, english=english)
    _refuse_another(folder, sheet)
    try:
        (folder / FIRST / QUIET).mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise StorageFault(
            worded(
                "{folder} could not be made ({reason})",
                folder=repr(str(folder)),
                reason=fault.strerror,
            ),
            worded("Name another folder"),
        ) from fault
    write_json(sheet_to_json(sheet), folder / FILE)
    write_bytes(sheet_page_html(sheet_page(sheet)).encode(), folder / PAGE)
    if not (folder / FIRST / ABOUT).exists():
        write_bytes(FORM.encode(), folder / FIRST / ABOUT)
    return sheet


def written(folder: Path) -> Iterator[tuple[Path, str]]:
    """What was written, and what for."""
    yield folder / PAGE, "print it, or read it from the screen"
    yield folder / FILE, "what must come of each sentence; leave it as it is"
    yield folder / FIRST / ABOUT, "for the first speaker to fill in; copy it for the next one"


def _refuse_another(folder: Path, sheet: Sheet) -> None:
    """Refuse to put a sheet where its numbers would mean other sentences.

    Raises:
        InputFault: there are recordings of another sheet.
    """
    if not folder.is_dir() or not has_recordings(folder):
        return
    try:
        same = sheet_in(folder) == sheet
    except InputFault:
        same = False
    if not same:
        raise InputFault(
            worded(
                "{folder} holds recordings that were not made with this sheet",
                folder=repr(str(folder)),
            ),
            worded("Name another folder; the sheet that belongs to recordings is never replaced"),
        )
