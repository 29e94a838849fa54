"""Headings, labels and notes: the same words as a page and as a PDF, and none that nothing shows."""

from __future__ import annotations

import html
import re
from dataclasses import replace

import pypdfium2
from sample_report import item, report

from voicelog.domain.report import Report
from voicelog.export.html import report_html
from voicelog.export.pdf import report_pdf
from voicelog.export.report_words import WORDS


def _plain(text: str) -> str:
    return re.sub(r"\W+", " ", re.sub("[\u200b\ufffe\u2068\u2069]", "", text))


def _as_page(made: Report) -> str:
    bare = re.sub(r"<style.*?</style>|<[^>]*>", " ", report_html(made), flags=re.DOTALL)
    return _plain(html.unescape(bare))


def _as_pdf(made: Report) -> str:
    pages = pypdfium2.PdfDocument(report_pdf(made))
    return _plain(" ".join(page.get_textpage().get_text_range() for page in pages))


def test_both_forms_say_the_same_words_and_between_them_all() -> None:
    """A report of everything, and one of nothing, use up the whole list; neither form has its own."""
    by_hand = item(9, said="", could_be=("a: b",), overruled="c", means="d")
    full = replace(report(8), findings=(*report(8).findings, by_hand))
    empty = replace(report(0), signatures=(), plan="", worst=(), findings=())
    bare = replace(report(1), worst=(item(1),), findings=(item(1),))
    shown: set[str] = set()
    for made in (full, empty, bare):
        page, pages = _as_page(made), _as_pdf(made)
        on_page = {name for name, words in WORDS.items() if _plain(words) in page}
        in_pages = {name for name, words in WORDS.items() if _plain(words) in pages}
        assert on_page - in_pages <= {"plan", "findings"}
        assert in_pages - on_page <= {"said"}
        shown |= on_page | in_pages
    assert shown == set(WORDS)
