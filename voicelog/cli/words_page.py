"""What ``voicelog words page`` writes: the page as HTML or as PDF, told by the file's ending."""

from __future__ import annotations

from pathlib import Path

from voicelog.config.grammar import grammar_in_force
from voicelog.config.settings import Settings
from voicelog.domain.inert import inert
from voicelog.errors import UsageFault
from voicelog.export.words_page import words_page_html, words_page_pdf
from voicelog.runtime.words_page import words_page
from voicelog.tongue import worded

_ENDINGS = ("", ".html", ".htm", ".pdf")


def made(settings: Settings, output: Path | None, paper: str | None) -> bytes:
    """The page in the form that the file's ending asks for.

    Raises:
        UsageFault: there is no such form, or a paper for HTML, which has none.
    """
    ending = output.suffix.lower() if output else ""
    if ending not in _ENDINGS:
        raise UsageFault(
            worded("The page is never {ending}", ending=repr(inert(ending, 20))),
            worded("Name a file that ends in .html or .pdf"),
        )
    if paper and ending != ".pdf":
        raise UsageFault(
            worded("--paper is for a PDF"), worded("Your browser asks for the paper when it prints")
        )
    page = words_page(grammar_in_force(settings), english=settings.grammar is None)
    if ending == ".pdf":
        return words_page_pdf(page, paper or "a4")
    return words_page_html(page).encode()
