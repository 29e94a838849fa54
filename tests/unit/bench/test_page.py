"""Where measured tables go."""

from __future__ import annotations

from pathlib import Path

import page
import pytest

BEGIN, END = "<!-- own:begin -->", "<!-- own:end -->"


def test_the_table_goes_between_the_markers(tmp_path: Path) -> None:
    """What stood there is replaced, the rest of the page is left."""
    readme = tmp_path / "README.md"
    readme.write_text(f"a\n{BEGIN}\nold\n{END}\nb\n", encoding="utf-8")
    page.write("own", "| new |", readme)
    assert readme.read_text(encoding="utf-8") == (f"a\n{BEGIN}\n| new |\n{END}\nb\n")


@pytest.mark.parametrize(
    "text", ["", BEGIN, END, f"{END} {BEGIN}", "<!-- other:begin --> <!-- other:end -->"]
)
def test_a_page_without_its_markers_is_refused(tmp_path: Path, text: str) -> None:
    """And left as it is."""
    readme = tmp_path / "README.md"
    readme.write_text(text, encoding="utf-8")
    with pytest.raises(SystemExit, match="has no markers"):
        page.write("own", "| new |", readme)
    assert readme.read_text(encoding="utf-8") == text
