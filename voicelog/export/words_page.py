"""The page of spoken words as one HTML file, and as a PDF: one page of A4, and one of Letter."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import asdict
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

from voicelog.domain.words_page import Said, WordsPage
from voicelog.errors import StorageFault, VoicelogError
from voicelog.export.page_templates import templates
from voicelog.export.pdf import PAPERS, require
from voicelog.tongue import worded

SIZES_PT = (10.0, 9.0, 8.5, 8.0, 7.5, 7.0, 6.5)
"""Letters of the printed page, from roomy to tight; the style sheet has a class for each."""

_COLUMNS = 3
_TALL_PT, _ACROSS_PT = 232 / 25.4 * 72, 59 / 25.4 * 72
"""A column of the smaller of either paper: Letter is shorter, A4 narrower."""
_LINE, _LETTER = 1.28, 0.54
"""Height of a line and width of a letter, rather too much than too little, in sizes of the text."""
_FOLDER, _TEMPLATE = "words_page", "words_page.typ"


def words_page_html(page: WordsPage) -> str:
    """The page as text to be written in UTF-8; it loads nothing and runs nothing."""
    return templates(_FOLDER).get_template("page.html").render(page=page, fit=fit_of(page))


def fit_of(page: WordsPage) -> int:
    """Which of :data:`SIZES_PT` it is printed in: the largest that stays on one page, else the last."""
    sizes = range(len(SIZES_PT))
    return next((n for n in sizes if _lines(page, SIZES_PT[n]) <= _room(SIZES_PT[n])), sizes[-1])


def _room(size_pt: float) -> float:
    """Lines that the columns hold; one of each is lost where they are parted."""
    return _COLUMNS * (_TALL_PT / (size_pt * _LINE) - 1)


def _lines(page: WordsPage, size_pt: float) -> int:
    across = _ACROSS_PT / (size_pt * _LETTER)
    return sum(math.ceil(len(text) / across) for text in _texts(page)) + 2 * len(page.sections)


def _texts(page: WordsPage) -> Iterator[str]:
    for section in page.sections:
        yield from (text for text in (section.note, *map(_row, section.rows)) if text)


def _row(row: Said) -> str:
    return ": ".join(part for part in (row.name, ", ".join(row.ways)) if part)


def words_page_pdf(page: WordsPage, paper: str = "a4") -> bytes:
    """The page as a PDF.

    Args:
        page: what to print.
        paper: ``a4`` or ``letter``.

    Raises:
        UsageFault: there is no such paper.
        VoicelogError: the extra ``report`` is not installed, or the page cannot be set.
        StorageFault: there is no room for it while it is set.
    """
    typst = require(paper)
    try:
        with TemporaryDirectory(prefix="voicelog-") as name:
            root = Path(name)
            source = (files("voicelog.export") / _TEMPLATE).read_bytes()
            (root / _TEMPLATE).write_bytes(source)
            (root / "data.json").write_text(json.dumps(asdict(page) | {"paper": PAPERS[paper]}))
            pages: bytes = typst.compile(str(root / _TEMPLATE), root=name)
            return pages
    except OSError as fault:
        why = fault.strerror or type(fault).__name__
        raise StorageFault(
            worded("The page could not be set ({why})", why=why), worded("Free some space")
        ) from fault
    except typst.TypstError as fault:
        raise VoicelogError(
            worded("The page could not be set"), worded("Take a file that ends in .html")
        ) from fault
