"""The report in a real browser: nothing is loaded, nothing is in the way of anybody, page one is a page.

``VOICELOG_NEEDS_CHROMIUM=1`` makes it a failure where the browser is missing: continuous integration
sets it, with Debian's ``chromium`` installed, which pip does not carry.
"""

from __future__ import annotations

import io
import os
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image

from voicelog.config.settings import Settings
from voicelog.domain.report import Answer, Item, Picture, Report, Row, RuleLine
from voicelog.export.html import report_html
from voicelog.runtime.opening import open_reading
from voicelog.runtime.reports import report_of

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
NEEDED = os.environ.get("VOICELOG_NEEDS_CHROMIUM") == "1"
pytestmark = pytest.mark.skipif(CHROMIUM is None and not NEEDED, reason="no chromium here")

SAID = (
    "left front rail, surface rust, scraped it, metal is firm",
    "right control arm mount, inside the pocket, hole ten to fifteen mil, goes through",
    "left mid rail thickness one point nine, should be two point five",
    "left kick up, surface rust",
    "scraper went through it",
    "gearbox cross member clean, no holes, no cracks, tapped it, rings true",
    "not seen, left control arm mount, inside, splash shield in the way",
    "owner says it stood on grass for ten years",
    "steering box mount, hairline crack by the weld",
    "right bed mount, surface rust, call it a repair",
    "left sill, hole, about thirty millimetres, call it cosmetic",
    "left brake line, pitting",
    "right floor pan, surface rust over ten percent",
)
HOSTILE = "<img src=x onerror=alert(1)> \u05e9\u05dc\u05d3\u05d4 \u4e00\u4e8c\u4e09 W" + "W" * 300
REASON = ("reason " * 20)[:140]
"""As long as page one shows one."""
SIZES = {"desk": (1280, 900), "phone": (360, 740)}


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Headless Chromium, closed at the end."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser
        browser.close()


def _jpeg() -> bytes:
    file = io.BytesIO()
    Image.effect_noise((640, 480), 40).convert("RGB").save(file, "JPEG")
    return file.getvalue()


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Report:
    """The report of a log in which the above was said."""
    with open_reading(Settings(into=tmp_path_factory.mktemp("logs")), keep=True) as session:
        for number, text in enumerate(SAID):
            session.read(text, at_s=float(number))
        assert session.folder is not None
        return report_of(session.folder, regions=("uk", "us"))


@pytest.fixture(scope="module")
def hostile(plain: Report) -> Report:
    """The same, full to the brim: pictures everywhere, every word as long as it may be, or longer."""
    long = HOSTILE[:80]
    pictures = (Picture("photos/p1.jpg", _jpeg(), HOSTILE, HOSTILE),)
    items = tuple(_brimming(item, pictures) for item in (*plain.findings,) * 3)
    return replace(
        plain,
        title=f"Frame inspection: {long}",
        findings=tuple(replace(item, number=n) for n, item in enumerate(items, 1)),
        worst=tuple(replace(item, number=n) for n, item in enumerate(items[:5], 1)),
        answers=tuple(
            Answer(one.question, one.answer, (REASON,) * 3, 40)
            for one in plain.answers
        ),
        next_step=("a step " * 22,) * 4,
        vehicle=tuple(Row("Does not agree", long) for _ in range(11)),
        conditions=tuple(Row("Not allowed or not possible", "a word " * 17) for _ in range(3)),
        overruled=("the rules give repair, the inspector called it treat " * 2,) * 9,
        photos=pictures * 3,
        past=(HOSTILE,) * 3,
        more=31,
    )  # fmt: skip


def _brimming(item: Item, pictures: tuple[Picture, ...]) -> Item:
    return replace(
        item, place=HOSTILE, carries=HOSTILE, what=HOSTILE, limits=(HOSTILE, HOSTILE), said=HOSTILE * 3,
        pictures=pictures, history=(HOSTILE,) * 3, rules=(RuleLine("a", HOSTILE, HOSTILE),),
        measured=(HOSTILE,), steps=(HOSTILE,) * 3, overruled=HOSTILE, lacks=HOSTILE,
    )  # fmt: skip


@pytest.fixture(params=["plain", "hostile"])
def report(request: pytest.FixtureRequest) -> Report:
    """Either of the two."""
    made: Report = request.getfixturevalue(request.param)
    return made


Opened = tuple["Page", list[str]]


@pytest.fixture
def opened(browser: Browser, tmp_path: Path) -> Iterator[Callable[..., Opened]]:
    """Opens a report as somebody would who got it by mail: a file on the disk."""
    contexts: list[Any] = []

    def open_page(report: Report, size: tuple[int, int] = SIZES["desk"]) -> Opened:
        file = tmp_path / "report.html"
        file.write_text(report_html(report), encoding="utf-8")
        context = browser.new_context(viewport={"width": size[0], "height": size[1]})
        contexts.append(context)
        page, events = context.new_page(), list[str]()
        page.on("console", lambda message: events.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: events.append(f"error: {error}"))
        page.on("dialog", lambda dialog: events.append(f"dialog: {dialog.message}"))
        page.on("request", lambda request: events.append(f"request: {request.url[:999]}"))
        page.goto(file.as_uri())
        return page, events

    yield open_page
    for context in contexts:
        context.close()


def test_nothing_is_loaded_and_nothing_complains(
    report: Report, opened: Callable[..., Opened]
) -> None:
    """No request but the file itself and the pictures in it; no word on the console; no dialog."""
    page, events = opened(report)
    page.wait_for_load_state("networkidle")
    asked = [event for event in events if not event.startswith("request: data:image/jpeg;base64,")]
    assert [event.split("/")[-1] for event in asked] == ["report.html"]


@pytest.mark.parametrize("size", SIZES)
def test_axe_finds_no_barrier(report: Report, opened: Callable[..., Opened], size: str) -> None:
    """WCAG 2.2 A to AAA and best practice, wide and narrow; contrast of 7:1 among them."""
    page, _ = opened(report, SIZES[size])
    tags = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": tags}})
    assert found.violations_count == 0, found.generate_report()


def test_a_phone_needs_no_scrolling_sideways(report: Report, opened: Callable[..., Opened]) -> None:
    """However long a word is."""
    page, _ = opened(report, SIZES["phone"])
    assert page.evaluate("document.documentElement.scrollWidth") <= SIZES["phone"][0]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_page_one_is_one_page_of_paper(
    report: Report, opened: Callable[..., Opened], paper: str
) -> None:
    """What a buyer reads ends on the first page, and the findings begin on the second."""
    page, _ = opened(report)
    document = pypdfium2.PdfDocument(page.pdf(format=paper, prefer_css_page_size=False))
    first, second = (document[n].get_textpage().get_text_range() for n in range(2))
    assert report.headline in first
    assert "What this rests on" in first
    assert "nobody" in first
    assert "Findings, the worst first" not in first
    assert "Findings, the worst first" in second
    assert "What to do next" not in second
    assert f"page 1 of {len(document)}" in first


def test_the_drawing_tells_its_places_on_hovering(
    plain: Report, opened: Callable[..., Opened]
) -> None:
    """Every place has a title of its own in the page."""
    page, _ = opened(plain)
    titles = page.locator("figure.plan svg g > title").all_text_contents()
    assert "Steering box mount: unsafe; findings 2; looked at, not touched" in titles
    assert any("nobody looked" in title for title in titles)


def test_the_first_key_press_offers_a_way_past_the_heading(
    plain: Report, opened: Callable[..., Opened]
) -> None:
    """The skip link is seen once it has the focus."""
    page, _ = opened(plain)
    page.keyboard.press("Tab")
    skip = page.locator("a.skip")
    box = skip.bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert page.evaluate("document.activeElement.className") == "skip"
