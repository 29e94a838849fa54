"""What a log keeps for those who look at it later: other readings, earlier states, the past."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from voicelog.export.contract import validate
from voicelog.journal.reading import read_log

Run = Callable[..., Any]

TWO_MEANINGS = """\
[[meaning]]
slot = "condition"
value = "scale"
say = ["zorbled"]

[[meaning]]
slot = "rot"
value = "hole"
say = ["zorb led"]
"""
"""Words of which nobody can tell which was meant: they run together alike."""


@pytest.fixture
def read(run: Run, tmp_path: Path) -> Callable[..., Path]:
    """Reads texts with these words on top and hands back the folder of the log."""
    words = tmp_path / "shop.toml"
    words.write_text(TWO_MEANINGS, encoding="utf-8")

    def keep(*texts: str) -> Path:
        done = run("read", *texts, "--words", words, "--into", tmp_path / "logs")
        assert (done.returncode, done.stderr) == (0, "")
        (folder,) = (tmp_path / "logs").iterdir()
        return folder

    return keep


def _exported(run: Run, folder: Path) -> list[dict[str, Any]]:
    document = json.loads(run("export", folder, "--to", "json").stdout)
    validate(document, "inspection")
    entries: list[dict[str, Any]] = document["entries"]
    return entries


def test_the_runner_up_of_a_doubtful_reading_is_in_the_log(
    run: Run, read: Callable[..., Path]
) -> None:
    """Whole, as the entry that it would have made; the log is sound, and the export has its slots."""
    folder = read("left sill, zorbled", "right sill, surface rust")
    doubtful, sure = [fact.body for fact in read_log(folder).facts if fact.type == "utterance"]
    (other,) = doubtful["reading"]["runner_up"]
    (kept,) = doubtful["changes"]
    assert kept["entry"]["slots"]["condition"] == "scale"
    assert other["entry"]["slots"]["condition"] == "hole"
    assert other["entry"]["slots"]["zone"] == kept["entry"]["slots"]["zone"] == "sill"
    assert other["entry"]["text"] == "left sill, zorbled"
    assert "runner_up" not in sure["reading"]
    checked = run("verify", folder)
    assert (checked.returncode, checked.stderr) == (0, "")
    first, second = _exported(run, folder)
    assert first["runner_up"] == other["entry"]["slots"]
    assert (first["doubtful"], second["doubtful"]) == (True, False)


def test_the_export_shows_what_a_correction_changed(run: Run, read: Callable[..., Path]) -> None:
    """Every earlier state, oldest first, beside the entry as it stands."""
    folder = read("left sill, surface rust", "correction, right side", "correction, scale")
    (entry,) = _exported(run, folder)
    assert (entry["side"], entry["condition"]) == ("right", "scale")
    states = [(state["side"], state["condition"]) for state in entry["history"]]
    assert states == [("left", "surface-rust"), ("right", "surface-rust")]


def test_what_was_withdrawn_stays_in_the_log(run: Run, read: Callable[..., Path]) -> None:
    """*Disregard* leaves no entry, and takes no word out of the log."""
    folder = read("left sill, surface rust", "disregard")
    assert "surface-rust" in (folder / "journal.jsonl").read_text("utf-8")
    assert run("verify", folder).returncode == 0
    assert _exported(run, folder) == []


@pytest.mark.parametrize(
    ("text", "tag"),
    [
        ("it was stored in a damp barn for years", "stored damp"),
        ("driven every winter on salted roads", "winter salt"),
    ],
)
def test_the_past_is_shown_under_its_tags(run: Run, text: str, tag: str) -> None:
    """Remarks that matter to risk have a part of their own at the end of the report."""
    told = run("read", "left sill, surface rust", text).stdout
    _, past = told.split("What was said of its past")
    assert f"{tag}: “{text}”" in past


def test_without_a_word_of_the_past_nothing_is_shown_of_it(run: Run) -> None:
    """No heading over nothing."""
    assert "past" not in run("read", "left sill, surface rust").stdout
