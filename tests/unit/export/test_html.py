"""The report as one HTML file: whole, well formed, harmless, and reaching for nothing outside."""

from __future__ import annotations

import base64
import hashlib
import itertools
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from sample_report import item, picture, report

from voicelog.domain.report import Answer, KeyRow, Report, Row, Unseen, Work
from voicelog.export.html import report_html

VOID = {"meta", "img", "br", "link", "input", "hr"}
EVIL = "<script>alert(1)</script><img src=x onerror=alert(1)> </style> {{7*7}} \"' --> ]]>"


class Page(HTMLParser):
    """What a parser of the standard library makes of a page: elements, attributes, text."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.faults: list[str] = []
        self.text = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """An element begins."""
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """An element of the drawing that is closed at once."""
        self.elements.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        """It ends where it should."""
        if not self.open or self.open.pop() != tag:
            self.faults.append(f"</{tag}> at {self.getpos()}")

    def handle_data(self, data: str) -> None:
        """Text, that of the style sheet apart."""
        if not self.open or self.open[-1] not in ("style", "script"):
            self.text += data

    def all(self, tag: str) -> list[dict[str, str]]:
        """The attributes of every element of a kind."""
        return [attributes for name, attributes in self.elements if name == tag]


def _hostile() -> Report:
    """A report whose every word from outside tries to be markup."""
    bad = item(
        1, place=EVIL, what=EVIL, said=EVIL, limits=(EVIL,), measured=(EVIL,), judged=(EVIL,),
        inferred=(EVIL,), steps=(EVIL,), cautions=(EVIL,), history=(EVIL,), lacks=EVIL, carries=EVIL,
        overruled=EVIL, could_be=(EVIL,), pictures=(replace(picture(), alt=EVIL, caption=EVIL, name=EVIL),),
    )  # fmt: skip
    return replace(
        report(0), title=EVIL, under=EVIL, counted=(EVIL,), plan_alt=EVIL, worst=(bad,), findings=(bad,),
        answers=(Answer(EVIL, EVIL, (EVIL,)),), vehicle=(Row(EVIL, EVIL),), next_step=(EVIL,),
        work=(Work("now", 1, EVIL, EVIL, (EVIL,), EVIL, (EVIL,)),), past=(EVIL,), clear=(EVIL,),
        unseen=(Unseen(EVIL, EVIL, EVIL, EVIL),), overruled=(EVIL,), lacking=(EVIL,),
        pointers=(Row(EVIL, EVIL),), cautions=(EVIL,), compared=(EVIL,), key=(KeyRow("U", "unsafe", EVIL),),
    )  # fmt: skip


REPORTS = {
    "whole": lambda: report(6),
    "long": lambda: report(300),
    "empty": lambda: replace(
        report(0), worst=(), findings=(), work=(), unseen=(), clear=(), past=(), photos=(),
        lacking=(), changes=(), compared=(), coating=(), pointers=(), cautions=(), signatures=(),
        overruled=(), more=0,
    ),
    "hostile": _hostile,
}  # fmt: skip


@pytest.fixture(params=REPORTS)
def page(request: pytest.FixtureRequest) -> Page:
    """One page of each kind."""
    return Page(report_html(REPORTS[request.param]()))


def test_every_element_is_closed_where_it_should_be(page: Page) -> None:
    """A page that parsers have to mend is read differently by each."""
    assert (page.faults, page.open) == ([], [])


def test_ids_are_unique_and_every_reference_has_its_target(page: Page) -> None:
    """Links inside the page, labels by reference, and the drawing's patterns."""
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    named = [
        a[key]
        for _, a in page.elements
        for key in ("aria-labelledby", "aria-describedby")
        if key in a
    ]
    links = [a["href"] for a in page.all("a")]
    assert all(link.startswith("#") for link in links)
    wanted = {name for names in named for name in names.split()} | {link[1:] for link in links}
    assert wanted <= set(ids)


def test_nothing_is_loaded_from_anywhere(page: Page) -> None:
    """Every picture lies in the page; no script, no frame, no sheet, no font from elsewhere."""
    loading = (
        "src",
        "srcset",
        "data",
        "poster",
        "background",
        "action",
        "formaction",
        "xlink:href",
    )
    for tag, attributes in page.elements:
        assert tag not in ("script", "link", "iframe", "object", "embed", "base", "form")
        assert not [name for name in attributes if name.startswith("on")]
        for name in loading:
            assert attributes.get(name, "data:").startswith("data:")


def test_the_pages_own_policy_forbids_scripts_and_network() -> None:
    """Whatever slipped through could still load nothing; the one style sheet is known by its hash."""
    html = report_html(report(2))
    policy = next(a["content"] for a in Page(html).all("meta") if "http-equiv" in a)
    assert "default-src 'none'" in policy
    assert "script-src" not in policy
    assert "unsafe-inline" not in policy
    match = re.search(r"<style>(.*?)</style>", html, re.DOTALL)
    assert match is not None
    digest = base64.b64encode(hashlib.sha256(match.group(1).encode()).digest()).decode()
    assert f"style-src 'sha256-{digest}'" in policy
    assert "url(" not in match.group(1)
    assert "@import" not in match.group(1)
    assert " style=" not in html


def test_hostile_words_are_shown_as_words() -> None:
    """Markup in what somebody said is text, and templates in it are not filled in."""
    page = Page(report_html(_hostile()))
    assert page.text.count("<script>alert(1)</script>") > 20
    assert "{{7*7}}" in page.text
    assert not page.all("script")
    assert all(a["src"].startswith("data:") for a in page.all("img"))


def test_headings_descend_one_step_at_a_time(page: Page) -> None:
    """One h1, and no level left out."""
    levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch(r"h[1-6]", tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in itertools.pairwise(levels))


def test_it_has_landmarks_a_language_and_a_way_past_the_heading(page: Page) -> None:
    """What a screen reader steers by."""
    assert page.all("html") == [{"lang": "en"}]
    assert [len(page.all(tag)) for tag in ("main", "header", "footer")] == [1, 1, 1]
    assert page.all("a")[0] == {"class": "skip", "href": "#report"}


def test_tables_have_headers_and_pictures_their_words(page: Page) -> None:
    """Columns are named, and every photograph says what it shows."""
    assert all(header.get("scope") == "col" for header in page.all("th"))
    assert bool(page.all("table")) <= bool(page.all("th"))
    assert all(image.get("alt", "").strip() for image in page.all("img"))


def test_page_one_comes_in_the_agreed_order() -> None:
    """Headline, counts, drawing, three answers, the worst, next step, vehicle, what it rests on."""
    text = Page(report_html(report(6))).text
    marks = (
        "Do not drive or tow", "important places were touched", "The vehicle from above. Numbers",
        "Move it today?", "Repairable?", "What could change that?", "The worst that was found",
        "What to do next", "The vehicle and the inspection", "What this rests on",
        "Findings, the worst first", "Work list, in the order", "What was not seen", "Where nothing was found",
        "said of its past", "Since an earlier inspection", "The coating, by", "Public rules that", "Cautions",
        "Signed by",
    )  # fmt: skip
    body = text[text.index("Skip to the report") :]
    found = [body.index(mark) for mark in marks]
    assert found == sorted(found)


def test_coating_and_pointers_stand_behind_page_one() -> None:
    """They would be taken for the answer there."""
    html = report_html(report(6))
    first = html[: html.index('id="findings"')]
    assert "D610" not in first
    assert "Example manual" not in first


def test_the_sentence_as_heard_is_in_quotation_marks() -> None:
    """One sees whose words they are; an entry made by hand has none."""
    html = report_html(report(1))
    assert "“<bdi>left front rail, hole, scraper went through it</bdi>”" in html
    by_hand = item(1, said="")
    assert "Entered by hand" in report_html(
        replace(report(1), findings=(by_hand,), worst=(by_hand,))
    )


def test_missing_photos_are_told_only_where_others_are_there() -> None:
    """Five empty frames on a page without pictures would say nothing."""
    bare = tuple(item(number) for number in range(1, 6))
    assert 'no-photo"' not in report_html(replace(report(5), findings=bare, worst=bare))
    assert report_html(report(6)).count('class="no-photo"') == 2


def test_text_of_either_direction_stands_by_itself() -> None:
    """Right-to-left words do not turn round what stands beside them."""
    hebrew = "\u05e9\u05dc\u05d3\u05d4"
    html = report_html(report(1, title=hebrew, past=(hebrew,)))
    assert html.count(f"<bdi>{hebrew}</bdi>") == 2


def test_pictures_are_the_very_bytes() -> None:
    """A data address that holds the JPEG."""
    shot = picture()
    html = report_html(report(0, photos=(shot,)))
    assert f"data:image/jpeg;base64,{base64.b64encode(shot.data).decode()}" in html


def test_our_own_words_on_the_page_vouch_for_nothing() -> None:
    """Headings, labels and notes that only the page has."""
    text = Page(report_html(REPORTS["empty"]())).text
    assert not re.search(r"\b(safe|passed|roadworthy|certified)\b|[$€£]", text, re.I)
