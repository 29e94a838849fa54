"""The page of spoken words, printed by a real browser: one sheet, and nothing in anybody's way.

``VOICELOG_NEEDS_CHROMIUM=1`` makes it a failure where the browser is missing, as for the report.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe

from voicelog.config.grammar import load_grammar
from voicelog.export.words_page import words_page_html
from voicelog.runtime.words_page import words_page

if TYPE_CHECKING:
    from playwright.sync_api import Page

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
NEEDED = os.environ.get("VOICELOG_NEEDS_CHROMIUM") == "1"
pytestmark = pytest.mark.skipif(CHROMIUM is None and not NEEDED, reason="no chromium here")


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    """A page of headless Chromium."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser.new_page()
        browser.close()


@pytest.mark.parametrize("name", ["ladder-frame", "unibody", "backbone"])
def test_it_prints_on_one_sheet(name: str, page: Page) -> None:
    """Of A4, and of Letter, with every map that ships."""
    page.set_content(words_page_html(words_page(load_grammar(name))))
    for paper in ("A4", "Letter"):
        assert len(pypdfium2.PdfDocument(page.pdf(format=paper))) == 1, paper


def test_it_stands_on_a_phone_and_for_a_screen_reader(page: Page) -> None:
    """No line runs out at the side, and axe-core finds nothing to complain of."""
    page.set_viewport_size({"width": 360, "height": 740})
    page.set_content(words_page_html(words_page(load_grammar())))
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    # Read outside the page's own policy, which lets no script in.
    assert not page.evaluate("document.scripts.length")
    with page.context.browser.new_context(bypass_csp=True).new_page() as free:  # type: ignore[union-attr]
        free.set_content(words_page_html(words_page(load_grammar())))
        assert Axe().run(free).response["violations"] == []
