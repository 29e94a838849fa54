"""The command: what it refuses, and where its table goes."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
import understanding


def test_wrong_cases_of_the_untouched_part_stay_hidden(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the reason, whether the part is named, comes by default or is given as a file."""
    for part in (["--part", "untouched"], [], ["--cases", "tests/corpus/untouched.jsonl"]):
        monkeypatch.setattr(sys, "argv", ["understanding.py", "--own", "--wrong", *part])
        with pytest.raises(SystemExit, match="stays untouched only while nobody looks"):
            understanding.main()


def test_the_table_goes_between_the_markers(tmp_path: Path) -> None:
    """What stood there is replaced, the rest of the page is left."""
    page = tmp_path / "README.md"
    page.write_text(f"a\n{understanding.BEGIN}\nold\n{understanding.END}\nb\n", encoding="utf-8")
    understanding.write("| new |", page)
    assert page.read_text(encoding="utf-8") == (
        f"a\n{understanding.BEGIN}\n| new |\n{understanding.END}\nb\n"
    )


@pytest.mark.parametrize("text", ["", understanding.BEGIN, understanding.END])
def test_a_page_without_markers_is_refused(tmp_path: Path, text: str) -> None:
    """And left as it is."""
    page = tmp_path / "README.md"
    page.write_text(text, encoding="utf-8")
    with pytest.raises(SystemExit, match="has no markers"):
        understanding.write("| new |", page)
    assert page.read_text(encoding="utf-8") == text
