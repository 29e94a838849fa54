"""What comes out, looked at as a terminal, a browser, a spreadsheet or a player would."""

from __future__ import annotations

import csv
import io
import json
import re
import unicodedata
from html.parser import HTMLParser

_TIMES = re.compile(r"\d\d+:\d\d:\d\d\.\d{3} --> \d\d+:\d\d:\d\d\.\d{3}")
_VOICE = re.compile(r"</?v(?: [^<>]*)?>")
_NUMBER = re.compile(r"-?\d+(\.\d+)?(e[+-]?\d+)?")
_STARTS = "=+-@\t\r"


def steering(out: bytes) -> str:
    """The characters of a program's output that could steer a terminal, or show as what they are not."""
    text = out.decode("utf-8", "surrogateescape")
    return ascii("".join(sorted({c for c in text if c != "\n" and not c.isprintable()})))[1:-1]


class _Marks(HTMLParser):
    """Every element with its attributes' names, and whatever an attribute would load."""

    def __init__(self) -> None:
        super().__init__()
        self.found: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.add(tag)
        for name, value in attrs:
            self.found.add(f"{tag} {name}")
            if name in ("src", "href", "xlink:href", "action") and value:
                self.found.add(f"{tag} {name} {value.partition(':')[0][:5]}")

    handle_startendtag = handle_starttag

    def handle_decl(self, decl: str) -> None:
        self.found.add(f"!{decl[:7]}")

    def handle_pi(self, data: str) -> None:
        self.found.add("?")

    def handle_comment(self, data: str) -> None:
        self.found.add("comment")


def markup(page: bytes) -> set[str]:
    """What of a page is markup; a hostile log must give nothing that an honest one does not."""
    marks = _Marks()
    marks.feed(page.decode())
    return marks.found


def in_page(page: bytes, honest: set[str]) -> str:
    """What is wrong with a page."""
    new = sorted(mark for mark in markup(page) - honest if not mark.startswith(("img", "figure")))
    hidden = "".join(c for c in steering(page.replace(b"\xc2\xa0", b" ")))
    return "; ".join(filter(None, (", ".join(new), hidden)))


def in_table(table: bytes) -> str:
    """The first cell that a spreadsheet would run, or that steers."""
    rows = csv.reader(io.StringIO(table.decode("utf-8-sig"), newline=""))
    for cell in (cell for row in rows for cell in row):
        first = unicodedata.normalize("NFKC", cell.lstrip("\"' \u3000\u00a0"))[:1]
        runs = (
            first and first in _STARTS and not cell.startswith("'") and not _NUMBER.fullmatch(cell)
        )
        if runs or not cell.isprintable():
            return ascii(cell[:40])
    return ""


def in_json(document: bytes) -> str:
    """What is wrong with a document."""
    try:
        json.loads(document.decode("ascii"), parse_constant=float.fromhex)
    except ValueError as error:
        return str(error)
    return ""


def in_cues(text: bytes) -> str:
    """The first line of a WebVTT file that is more than it should be."""
    blocks = (block.split("\n") for block in text.decode().split("\n\n"))
    for line in (line for block in blocks if block[0] != "NOTE" for line in block):
        odd = "-->" in line and not _TIMES.fullmatch(line)
        if odd or not line.isprintable() or line.startswith(("STYLE", "REGION")):
            return ascii(line[:60])
        if re.search("<[^>]*>", _VOICE.sub("", line)):
            return ascii(line[:60])
    if not text.decode().replace("\n", "").isprintable():
        return steering(text)
    return "" if text.startswith(b"WEBVTT\n") else "no WebVTT"
