"""The command: what it refuses, and where its table goes."""

from __future__ import annotations

import sys

import pytest
import understanding


def test_wrong_cases_of_the_untouched_part_stay_hidden(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the reason, whether the part is named, comes by default or is given as a file."""
    for part in (["--part", "untouched"], [], ["--cases", "tests/corpus/untouched.jsonl"]):
        monkeypatch.setattr(sys, "argv", ["understanding.py", "--own", "--wrong", *part])
        with pytest.raises(SystemExit, match="stays untouched only while nobody looks"):
            understanding.main()
