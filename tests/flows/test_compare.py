"""Two inspections of one vehicle, made and compared by the real command."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.journal.journal import Journal
from voicelog.journal.reading import verify
from voicelog.runtime.comparing import compared
from voicelog.runtime.session import Session

Run = Callable[..., Any]
THEN = (
    "left front rail, surface rust",
    "left kick up, hole 25 millimetres, scraper went through",
    "right sill, pitting",
    "left sill, hole 40 millimetres",
)
NOW = (
    "left front rail, hole 20 millimetres",
    "left kick up, plated over",
    "right sill clean, scraped, firm",
    "left shock mount, crack",
)


def log_of(run: Run, parent: Path, *said: str, **flags: str) -> Path:
    """A log in which this was said; flags are given as written, for example ``map="backbone"``."""
    given = [part for name, value in flags.items() for part in (f"--{name}", value)]
    done = run("read", "--into", parent, *given, *said)
    assert done.returncode == 0, done.stderr
    (folder,) = (path for path in parent.iterdir() if path.is_dir())
    return folder


@pytest.fixture
def logs(run: Run, tmp_path: Path) -> tuple[Path, Path]:
    """The older and the newer one."""
    older = log_of(run, tmp_path / "old", *THEN, subject="pickup 12")
    return older, log_of(run, tmp_path / "new", *NOW, subject="pickup 12")


def test_compared_for_a_person_and_for_a_program(run: Run, logs: tuple[Path, Path]) -> None:
    """The same changes in both, the order of the sections, exit code 0, nothing written."""
    before = [(path / "journal.jsonl").read_bytes() for path in logs]
    text, document = run("compare", *logs), run("compare", *logs, "--json")
    assert (text.returncode, document.returncode) == (0, 0)
    assert (text.stderr, document.stderr) == ("", "")
    told = json.loads(document.stdout)
    assert [(d["change"], d["zone"]) for d in told["differences"]] == [
        ("worse", "front-rail"),
        ("appeared", "shock-mount"),
        ("not-looked-at-again", "sill"),
        ("repaired", "kick-up"),
        ("repaired", "sill"),
    ]
    for wanted in ("Worse (1)", "Not looked at again: still open (1)", "Repaired, or clear under"):
        assert wanted in text.stdout
    assert "Move it today?" in text.stdout
    assert [(path / "journal.jsonl").read_bytes() for path in logs] == before
    assert all(verify(path).ok for path in logs)


def test_last_stands_for_the_newest(run: Run, logs: tuple[Path, Path]) -> None:
    """As in every other command."""
    done = run("compare", logs[0], "last", "--into", logs[1].parent)
    assert "Worse (1)" in done.stdout
    missing = run("compare", logs[0], "last", "--into", logs[0].parent / "nowhere")
    assert missing.returncode == 3
    assert run("compare", logs[0], logs[0].parent).returncode == 3


def test_a_log_compared_with_itself(run: Run, logs: tuple[Path, Path]) -> None:
    """Said, and everything the same."""
    done = run("compare", logs[0], logs[0])
    assert "! Both are the same log." in done.stdout
    assert "In all: same 4." in done.stdout


def test_another_map_and_another_vehicle_are_warned_of(run: Run, tmp_path: Path) -> None:
    """Zones of the same name are compared even so."""
    small = tmp_path / "trailer.toml"
    small.write_text(_SMALL_MAP)
    older = log_of(
        run, tmp_path / "a", "left front rail, scale", "left kick up, scale", subject="van"
    )
    newer = log_of(run, tmp_path / "b", "left front rail, hole", map=str(small), subject="trailer")
    told = json.loads(run("compare", older, newer, "--json").stdout)
    warnings = " ".join(told["warnings"])
    assert "The maps differ" in warnings
    assert "Only on the older map:" in warnings
    assert "no VIN tells" in warnings
    assert [(d["change"], d["zone"]) for d in told["differences"]] == [
        ("worse", "front-rail"),
        ("not-looked-at-again", "kick-up"),
    ]


_SMALL_MAP = """
id = "trailer"
title = "Trailer"

[[zone]]
id = "front-rail"
title = "Front rail"
role = "load-path"
layout = "pair"
say = ["front rail"]
plan = [10, 10, 8, 30]
"""


def test_other_rules_alone_make_nothing_worse(run: Run, tmp_path: Path) -> None:
    """The older facts are graded by the newer log's rules; the older log's own verdict is kept."""
    strict = tmp_path / "strict"
    shutil.copytree(grammar_dir(), strict)
    table = strict / "rules" / "frame.toml"
    table.write_text(table.read_text().replace("wall_loss_percent = 25", "wall_loss_percent = 5"))
    thin = "left front rail, thinning, 3.7 millimetres thick, should be 4, bare metal"
    older = log_of(run, tmp_path / "a", thin, subject="van")
    newer = log_of(run, tmp_path / "b", thin, subject="van", grammar=str(strict))
    told = json.loads(run("compare", older, newer, "--json").stdout)
    (difference,) = told["differences"]
    assert (difference["change"], difference["then"], difference["now"]) == (
        "same",
        "repair",
        "repair",
    )
    assert "cosmetic by its own rules" in difference["text"]
    assert "graded by the newer log's rules" in told["warnings"][0]
    assert told["older"]["work"] != told["newer"]["work"]


def test_hostile_text_of_a_log_steers_nothing(run: Run, tmp_path: Path) -> None:
    """A subject and a landmark with control marks, shown inert."""
    evil = "\x1b[2Jpickup‮"
    older = log_of(run, tmp_path / "a", "left front rail, scale", subject=evil)
    newer = log_of(run, tmp_path / "b", "left front rail, hole", subject=f"{evil} two")
    done = run("compare", older, newer)
    assert done.returncode == 0
    assert "\x1b" not in done.stdout
    assert "‮" not in done.stdout


def test_a_damaged_log_is_refused_in_one_line(run: Run, logs: tuple[Path, Path]) -> None:
    """With the exit code of damage."""
    broken = logs[1] / "journal.jsonl"
    lines = broken.read_text().splitlines(keepends=True)
    broken.write_text("".join([lines[0], lines[1].replace("hole", "pole", 1), *lines[2:]]))
    done = run("compare", *logs)
    assert done.returncode == 5
    assert len(done.stderr.splitlines()) == 1


def test_thickness_read_twice_two_years_apart(tmp_path: Path) -> None:
    """A rate of wall loss, from two logs whose clocks were two years apart."""
    older = _dictated(tmp_path / "a", datetime(2024, 1, 5, tzinfo=UTC), "3 millimetres thick")
    newer = _dictated(tmp_path / "b", datetime(2026, 1, 5, tzinfo=UTC), "2.5 millimetres thick")
    comparison = compared(older, newer)
    (rate,) = [d.rate for d in comparison.differences if d.rate is not None]
    assert (rate.older_mm, rate.newer_mm) == (3.0, 2.5)
    assert rate.years == pytest.approx(731 / 365.25)
    assert rate.is_loss
    assert rate.years_left is not None
    assert comparison.older_at.startswith("2024-01-05")
    assert comparison.warnings == ()
    assert "log named first is the later one" in compared(newer, older).warnings[0]


def _dictated(parent: Path, began: datetime, reading: str) -> Path:
    """A log begun at a time of one's own, as ``hear --recorded-at`` makes them."""
    grammar = load_grammar()
    opened = {"map": "ladder-frame", "rails": "open"}
    journal = Journal.create(parent, subject="pickup", opened=opened, grammar=grammar.files)
    with Session(Settings(), grammar, journal=journal, now=lambda _: began) as session:
        session.read(f"left front rail, thinning, {reading}, should be 4, bare metal", at_s=1.0)
        session.close("end of text")
    return journal.folder
