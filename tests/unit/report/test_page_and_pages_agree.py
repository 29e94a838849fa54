"""Page one says the same in a browser and as a PDF, and so do the pages behind it."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator

import pypdfium2
import pytest
from inspected import entry, log_of, material

from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.report import Answer, Item, Report, Row
from voicelog.export.html import report_html
from voicelog.export.pdf import report_pdf
from voicelog.report import compose

CRACK = {"zone": "steering-box-mount", "condition": "crack"}
RUST = {"condition": "surface-rust"}
LOGS: dict[str, tuple[Entry, ...]] = {
    "nothing": (),
    "little": (entry(2, zone="sill", side="left", **RUST, doubts=("faint",)),),
    "danger": (
        entry(2, **CRACK, size_mm=24.26, certainty="tentative"),
        entry(3, zone="shock-mount", side="left", condition="pack-rust"),
        entry(4, zone="sill", side="left", condition="hole", spoken_grade="cosmetic"),
        entry(5, Kind.NOT_SEEN, zone="kick-up", side="left", reason="shield in the way"),
        *(entry(n, zone="front-rail", side="right", **RUST) for n in range(6, 12)),
    ),
}


@pytest.fixture(params=LOGS)
def report(request: pytest.FixtureRequest) -> Report:
    """The report of one of the logs."""
    return compose(material(load_grammar(), *log_of(*LOGS[request.param])))


def _plain(text: str) -> str:
    """Text without line ends, places where a word may be parted, marks of direction."""
    bare = re.sub("[\u200b\ufffe\u2068\u2069]", "", text)
    return re.sub(r"\W+", " ", re.sub(r"-\s+", "-", bare)).casefold()


def _text(page: str) -> str:
    """The words of a page of HTML."""
    return _plain(html.unescape(re.sub(r"<style.*?</style>|<[^>]*>", " ", page, flags=re.DOTALL)))


def _front(report: Report) -> Iterator[str]:
    """Every sentence that page one owes to whoever reads it."""
    yield from (report.title, report.headline, report.under, *report.counted)
    yield from (row.meaning for row in report.key)
    for answer in report.answers:
        yield from _answer(answer)
    for item in report.worst:
        yield from _item(item)
    yield from report.next_step
    yield from _rows((*report.vehicle, *report.conditions, *report.basis))
    yield from report.overruled[:2]


def _answer(answer: Answer) -> Iterator[str]:
    yield from (answer.question, answer.answer, *answer.because)
    if answer.more:
        yield f"and {answer.more} more, on the pages that follow"


def _item(item: Item) -> Iterator[str]:
    yield from (item.place, item.what, item.means, *item.limits, item.carries)


def _rows(rows: tuple[Row, ...]) -> Iterator[str]:
    for row in rows:
        yield from (row.label, row.value)


def _behind(report: Report) -> Iterator[str]:
    """What stands on the pages behind it in either form."""
    for item in report.findings:
        yield from (item.said, item.overruled, item.lacks, *item.cautions, *item.could_be)
        yield from (rule.text for rule in item.rules)
    yield from report.work_cautions
    for work in report.work:
        yield from (work.place, work.what, *work.steps, *work.cautions)
    for row in report.unseen:
        yield from (row.place, row.open, row.reason, row.matters)
    yield from (*report.clear, *report.lacking, *report.cautions, report.notice)
    yield from (row.value for row in report.made)


def test_page_one_says_the_same_in_either_form(report: Report) -> None:
    """Whoever holds the printed page and whoever reads the file on a phone speak of one thing."""
    whole = report_html(report)
    page = _text(whole[: whole.index("<nav")])
    sheet = _plain(pypdfium2.PdfDocument(report_pdf(report))[0].get_textpage().get_text_range())
    for sentence in map(_plain, _front(report)):
        assert sentence in page
        assert sentence in sheet


def test_the_pages_behind_say_the_same_in_either_form(report: Report) -> None:
    """Findings, work, what was not seen; a table that a page parts keeps its words."""
    page = _text(report_html(report))
    sheets = pypdfium2.PdfDocument(report_pdf(report))
    told = set(_plain(" ".join(one.get_textpage().get_text_range() for one in sheets)).split())
    for sentence in map(_plain, _behind(report)):
        assert sentence in page
        assert set(sentence.split()) <= told
