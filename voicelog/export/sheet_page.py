"""The sheet that people read from when they record themselves, as one HTML file."""

from __future__ import annotations

from voicelog.domain.sheet_page import SheetPage
from voicelog.export.page_templates import templates

_FOLDER = "sheet_page"


def sheet_page_html(page: SheetPage) -> str:
    """The page as text to be written in UTF-8; it loads nothing and runs nothing."""
    return templates(_FOLDER).get_template("page.html").render(page=page)
