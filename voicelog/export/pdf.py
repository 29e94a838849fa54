"""The report as a PDF: A4 or letter, tagged for screen readers, page one a page of its own.

Typst sets the pages (``report.typ`` and what it takes in). All text reaches it as JSON, pictures as files of a folder
that is made for one report and removed: nothing that was said is ever read as markup, and nothing
outside that folder can be read from a page.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory
from types import ModuleType
from typing import Any

from voicelog.domain.inert import inert
from voicelog.domain.report import Item, Picture, Report
from voicelog.errors import StorageFault, UsageFault, VoicelogError
from voicelog.export.plan_looks import swatch_svg
from voicelog.export.report_words import OF_PAGES, words
from voicelog.tongue import either, worded

PAPERS: Mapping[str, str] = {"a4": "a4", "letter": "us-letter"}
"""What a page can be, and Typst's name for it."""

LONGEST = 2_000
"""Characters of one text that a page shows; nobody says more in one breath."""

_TEMPLATES = ("report.typ", "report_front.typ", "report_parts.typ")
"""The first is set; it takes in the others."""
_FEW = 24
"""Sentences of a finding that surely fit a page."""
_SHOTS = 4
"""The same for its pictures: one beside its words, three below."""

_CLAIM = ["ua-1"]
"""PDF/UA-1 (ISO 14289-1); Typst refuses to claim it where a character is in no font."""
_LONG_WORD = re.compile(r"(?!(?:[0-9a-f-]{1,64})(?!\S))\S{24,}")
"""Would run out of a narrow column; a SHA-256 or an id stays whole, so that it can be copied."""
_BREAK = "\u200b"
"""Lets a line end where no word does."""


def report_pdf(report: Report, paper: str = "a4") -> bytes:
    """The report as a PDF; the same report gives the same bytes on one machine.

    It says that it is PDF/UA-1 unless some character is in none of the machine's fonts; then it is
    tagged all the same, and its last page says so.

    Args:
        report: what to show.
        paper: ``a4`` or ``letter``.

    Raises:
        UsageFault: there is no such paper.
        VoicelogError: the extra ``report`` is not installed, or the pages cannot be set.
        StorageFault: there is no room for the pictures while the pages are set.
    """
    typst = require(paper)
    try:
        with TemporaryDirectory(prefix="voicelog-") as name:
            return _pages(typst, report, PAPERS[paper], Path(name))
    except OSError as fault:
        why = fault.strerror or type(fault).__name__
        raise StorageFault(
            worded("The pages could not be set ({why})", why=why), worded("Free some space")
        ) from fault


def require(paper: str = "a4") -> ModuleType:
    """What sets the pages; asked for before a report is put together, which takes longer.

    Raises:
        UsageFault: there is no such paper.
        VoicelogError: the extra ``report`` is not installed.
    """
    if paper not in PAPERS:
        raise UsageFault(
            worded("There is no paper {paper}", paper=repr(inert(paper, 40))),
            worded("Name {papers}.", papers=either(tuple(PAPERS))),
        )
    try:
        import typst
    except ImportError as missing:
        raise VoicelogError(
            worded("A PDF needs a part that is not installed"),
            worded(
                "Install it with: pip install 'voicelog[report]'. Without it, --to html gives the same"
                " report for a browser, which can print it"
            ),
        ) from missing
    module: ModuleType = typst
    return module


def _pages(typst: ModuleType, report: Report, paper: str, root: Path) -> bytes:
    """The pages, with the claim of accessibility if they can hold it."""
    for name in _TEMPLATES:
        (root / name).write_bytes((files("voicelog.export") / name).read_bytes())
    data = _document(report, root) | {"paper": paper}
    refused: Exception | None = None
    for claim in (_CLAIM, []):
        (root / "data.json").write_text(json.dumps(data | {"claims": bool(claim)}), "utf-8")
        try:
            pages: bytes = typst.compile(
                str(root / _TEMPLATES[0]), root=str(root), pdf_standards=claim
            )
        except typst.TypstError as error:
            refused = error
        else:
            return pages
    raise VoicelogError(
        worded("The report could not be set as pages: {refused}", refused=inert(str(refused), 200)),
        worded("Take --to html and print it from a browser"),
    ) from refused


def _document(report: Report, root: Path) -> dict[str, Any]:
    """The report as plain values; its pictures and the drawing lie in the folder."""
    if report.plan:
        (root / "plan.svg").write_text(report.plan, "utf-8", "replace")
    data = {one.name: _plain(getattr(report, one.name), root) for one in fields(report)}
    listed = {work.number for work in report.work}
    for item, told in zip(report.findings, data["findings"], strict=True):
        told["listed"] = item.number in listed
        told["short"] = _is_short(item)
    for number, (row, key) in enumerate(zip(report.key, data["key"], strict=True)):
        key |= {"swatch": f"key-{number}.svg", "name": key["letter"] or key["pattern"] or "sign"}
        (root / key["swatch"]).write_text(swatch_svg(row.pattern), "utf-8")
    return data | {
        "words": words() | words(OF_PAGES),
        "plan": "plan.svg" if report.plan else "",
        "log": _plain(next((row.value for row in report.chain), ""), root),
    }


def _is_short(item: Item) -> bool:
    """True where it surely fits a page, so that it need not be parted."""
    told = (
        item.limits, item.measured, item.judged, item.inferred, item.steps, item.could_be,
        item.cautions, item.history, tuple(rule.text for rule in item.rules),
    )  # fmt: skip
    texts = [item.what, item.said, item.overruled, *(text for some in told for text in some)]
    return len(texts) <= _FEW and sum(map(len, texts)) <= LONGEST and len(item.pictures) <= _SHOTS


def _plain(value: object, root: Path) -> Any:
    """The value as JSON has it: text inert, a picture the name of its file."""
    match value:
        case str():
            return shown(value)
        case tuple():
            return [_plain(one, root) for one in value]
        case Picture():
            return _kept(value, root)
        case _ if is_dataclass(value):
            return {one.name: _plain(getattr(value, one.name), root) for one in fields(value)}
        case _:
            return value


def _kept(picture: Picture, root: Path) -> dict[str, Any]:
    """A picture, once in the folder however often it is shown."""
    name = f"{hashlib.sha256(picture.data).hexdigest()}.jpg"
    if not (root / name).exists():
        (root / name).write_bytes(picture.data)
    return {"file": name, "caption": shown(picture.caption), "alt": shown(picture.alt) or "Photo"}


def shown(text: str) -> str:
    """Text as a page shows it: inert, of bounded length, with places where a line can end."""
    return _LONG_WORD.sub(lambda word: _parted(word[0]), inert(text, LONGEST))


def _parted(word: str) -> str:
    return _BREAK.join(word[at : at + 8] for at in range(0, len(word), 8))
