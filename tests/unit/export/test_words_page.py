"""The page of spoken words: one page of A4 and of Letter, whole, harmless, and the same in both forms."""

from __future__ import annotations

import re

import pypdfium2
import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.words_page import Said, Section, WordsPage
from voicelog.errors import UsageFault
from voicelog.export.words_page import SIZES_PT, fit_of, words_page_html, words_page_pdf
from voicelog.runtime.words_page import words_page

EVIL = '<script>alert(1)</script> #import "x" </style> {{7*7}} "\' & $x$'


def _page(rows: int, *, text: str = "a place: with a name and another") -> WordsPage:
    said = tuple(Said(f"{text} {number}", ("one way", "another")) for number in range(rows))
    return WordsPage(
        "Spoken words", ("Say the place.",), (Section("Places", said, "A note."),), "Foot"
    )


@pytest.fixture(scope="module", params=["ladder-frame", "unibody", "backbone"])
def shipped(request: pytest.FixtureRequest) -> WordsPage:
    """The page of each map that ships."""
    return words_page(load_grammar(request.param))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_it_fits_one_page_and_holds_every_row(shipped: WordsPage, paper: str) -> None:
    """Nothing is cut off: the last row of every section lies within the sheet, above the foot."""
    pdf = pypdfium2.PdfDocument(words_page_pdf(shipped, paper))
    assert len(pdf) == 1
    text = pdf[0].get_textpage()
    whole = " ".join(text.get_text_bounded().split())
    for section in shipped.sections:
        assert section.rows[-1].name in whole
        assert section.title in whole
    assert pdf[0].get_size() == pytest.approx(
        (595.3, 841.9) if paper == "a4" else (612, 792), abs=1
    )
    boxes = [text.get_rect(number) for number in range(text.count_rects())]
    assert min(bottom for _, bottom, _, _ in boxes) > 20
    assert max(right for _, _, right, _ in boxes) < pdf[0].get_width() - 20


def test_the_browser_page_has_the_same_rows(shipped: WordsPage) -> None:
    """Each name once, in order; letters no smaller than a person can read on a wall."""
    shown = re.findall(r"<li><b>(.*?)</b>", words_page_html(shipped))
    names = [row.name for section in shipped.sections for row in section.rows]
    assert [name.replace("&#39;", "'") for name in shown] == names
    assert SIZES_PT[fit_of(shipped)] >= 8


def test_size_follows_what_there_is_to_print() -> None:
    """More rows, smaller letters; at the end the smallest, over more than one page."""
    sizes = [fit_of(_page(rows)) for rows in (10, 150, 250, 1000)]
    assert sizes == sorted(sizes)
    assert (sizes[0], sizes[-1]) == (0, len(SIZES_PT) - 1)
    assert len(pypdfium2.PdfDocument(words_page_pdf(_page(1000)))) > 1


def test_words_from_outside_are_text() -> None:
    """A map's title is whatever somebody wrote; neither form reads it as markup."""
    page = _page(2, text=EVIL)
    assert "<script>alert" not in words_page_html(page)
    text = pypdfium2.PdfDocument(words_page_pdf(page))[0].get_textpage().get_text_bounded()
    assert "<script>alert(1)</script>" in " ".join(text.split())


def test_there_are_two_papers() -> None:
    """Any other is refused with the two."""
    with pytest.raises(UsageFault, match="a4 or letter"):
        words_page_pdf(_page(1), "a5")
