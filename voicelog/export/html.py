"""The report as one HTML file that needs nothing beside it: no script, no network, no other file.

The page's own policy forbids whatever it does not need, so that text from outside that slipped
through could still load and run nothing.
"""

from __future__ import annotations

import base64
from collections.abc import Iterable
from functools import cache
from types import SimpleNamespace
from typing import TYPE_CHECKING

from voicelog.domain.report import Item, Report
from voicelog.export.page_fit import card_of, fit_of
from voicelog.export.page_templates import templates
from voicelog.export.plan_looks import swatch_svg
from voicelog.export.report_words import words

if TYPE_CHECKING:
    from jinja2 import Environment

FOLDER = "report_page"
"""Holds the templates and the style, beside this module."""


def report_html(report: Report) -> str:
    """The whole page, as text to be written in UTF-8."""
    from markupsafe import Markup

    return (
        _environment()
        .get_template("page.html")
        .render(
            report=report,
            plan=Markup(report.plan),  # noqa: S704  plan_svg escapes all text in it
            pictured=_pictured(report.findings),
            fit=fit_of(report),
            listed={work.number for work in report.work},
        )
    )


@cache
def _environment() -> Environment:
    """The report's templates, with what they ask for."""
    environment = templates(FOLDER)
    environment.filters["data_uri"] = _data_uri
    environment.globals |= {
        "swatch": _swatch,
        "words": SimpleNamespace(**words()),
        "card_of": card_of,
    }
    return environment


def _data_uri(jpeg: bytes) -> str:
    """A picture as an address that holds it."""
    return f"data:image/jpeg;base64,{base64.b64encode(jpeg).decode('ascii')}"


def _swatch(pattern: str, row: int) -> str:
    """One sign of the key, its ids its own."""
    from markupsafe import Markup

    return Markup(swatch_svg(pattern, f"key-{row}-"))  # noqa: S704  drawn by this package


def _pictured(findings: Iterable[Item]) -> bool:
    """True where any finding has a picture: only then does a missing one need a word."""
    return any(item.pictures for item in findings)
