"""Measured tables in the README: each stands between markers of its own."""

from __future__ import annotations

from pathlib import Path

README = Path(__file__).parents[2] / "README.md"


def write(name: str, text: str, page: Path = README) -> None:
    """Put a table between the markers of its name.

    Raises:
        SystemExit: the page has none.
    """
    before, after = around(name, page)
    begin, end = _markers(name)
    page.write_text(f"{before}{begin}\n{text}\n{end}{after}", encoding="utf-8")


def around(name: str, page: Path = README) -> tuple[str, str]:
    """What stands before and after the markers of a table.

    Raises:
        SystemExit: the page has none.
    """
    begin, end = _markers(name)
    before, begun, rest = page.read_text(encoding="utf-8").partition(begin)
    _, ended, after = rest.partition(end)
    if not begun or not ended:
        raise SystemExit(f"{page} has no markers {begin} and {end}, in this order: add them first")
    return before, after


def _markers(name: str) -> tuple[str, str]:
    return f"<!-- {name}:begin -->", f"<!-- {name}:end -->"
