"""``voicelog review --plain`` and ``--json``: the same log as lines, for screen readers and scripts."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from voicelog.cli.review import review
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.sound import Clip
from voicelog.errors import InputFault, UsageFault
from voicelog.export.contract import validate
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.opening import open_live
from voicelog.runtime.review import Review

SAID = (
    "left front rail, hole ten mil | left rear rail, hole ten mil",
    "right sill, scale, metal is firm",
    "steering box mount, crack",
    "what a lovely morning",
)


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An inspection with a doubt, something unsafe and an idle remark, corrected once and signed."""
    settings = Settings(into=tmp_path_factory.mktemp("logs"))
    with open_live(settings, TypedEar(), subject="pickup 12") as session:
        for number, said in enumerate(SAID):
            texts = [text.strip() for text in said.split("|")]
            words = [
                tuple(Word(w, 0.3 if w == "rail," else 0.95) for w in t.split()) for t in texts
            ]
            made = (Hypothesis(t, -n, w) for n, (t, w) in enumerate(zip(texts, words, strict=True)))
            session.hear(
                Clip(b"\1\0" * 8000, 0.0, 0.5),
                offset_s=5.0 * number,
                heard=Heard(tuple(made), "built-in"),
            )
        assert session.folder is not None
    with Review.open(session.folder, Settings(), by="Sam") as opened:
        opened.correct("e3.1", {"side": "left"}, why="wrong side")
        opened.sign(why="no borescope")
        opened.correct("e3.1", {"size_mm": 30.0})
    return session.folder


def run(*arguments: str | Path) -> str:
    """What is printed; any fault comes through."""
    result = CliRunner().invoke(
        review, [*map(str, arguments)], catch_exceptions=False, standalone_mode=False
    )
    if result.exception is not None:
        raise result.exception
    return result.output


def answer(*arguments: str | Path) -> dict[str, Any]:
    """The same as JSON."""
    told: dict[str, Any] = json.loads(run(*arguments, "--json"))
    validate(told, "review")
    return told


def shown(told: dict[str, Any]) -> list[str]:
    """Ids of the entries."""
    return [entry["id"] for entry in told["entries"]]


def test_it_is_printed_where_nobody_looks_at_a_terminal(log: Path) -> None:
    """Entries, what is open, and the commands that go on."""
    told = run(log)
    assert told.startswith("pickup 12: 4 entries, signed by Sam on ")
    assert ", 1 change since" in told
    assert "3 of 4 shown, 1 hidden: idle remarks left out" in told
    assert "steering box mount — crack" in told
    assert "changed after signing" in told
    assert "there is no photo of it" in told.split("Open:")[1]
    assert f"voicelog amend {log}" in told
    assert f"voicelog sign {log}" in told


def test_an_entry_in_full(log: Path) -> None:
    """Heard words with question marks, other readings and how to take them, rules, history."""
    told = run(log, "--plain", "--entry", "e2.1")
    assert "heard:    left front rail,?? hole ten mil" in told
    assert "or heard: left rear rail,?? hole ten mil" in told
    assert "or 1: " in told
    assert "left rear rail — hole, 10 mm" in told
    assert "--runner-up 1 takes it" in told
    assert "clips/u2.flac" in told
    assert "why:" in told
    told = run(log, "--entry", "e3.1")
    assert "Sam corrected it: side: right → left. Why: wrong side" in told


@pytest.mark.parametrize(
    ("flags", "ids"),
    [
        ((), ["e2.1", "e3.1", "e4.1"]),
        (("--doubtful",), ["e2.1"]),
        (("--unsafe",), ["e4.1"]),
        (("--no-photo",), ["e4.1"]),
        (("--zone", "sill"), ["e3.1"]),
        (("--zone", "Front rail"), ["e2.1"]),
        (("--zone", "unplaced", "--remarks"), ["e5.1"]),
        (("--side", "left"), ["e2.1", "e3.1"]),
        (("--side", "left", "--find", "sill"), ["e3.1"]),
        (("--grade", "unsafe"), ["e4.1"]),
        (("--changed-after-signing",), ["e3.1"]),
        (("--remarks",), ["e2.1", "e3.1", "e4.1", "e5.1"]),
        (("--order", "grade"), ["e4.1", "e2.1", "e3.1"]),
    ],
)
def test_the_same_filters_as_on_the_screen(
    log: Path, flags: tuple[str, ...], ids: list[str]
) -> None:
    """They stack, and JSON tells what each hides."""
    told = answer(log, *flags)
    assert shown(told) == ids
    assert told["hidden"] == 4 - len(ids)


def test_json_tells_the_log_too(log: Path) -> None:
    """Signatures, open points, and what was changed since."""
    told = answer(log)
    assert [s["by"] for s in told["signatures"]] == ["Sam"]
    assert {"what", "text", "entry"} <= set(told["open"][0])
    changed = {entry["id"]: entry["changed_after_signing"] for entry in told["entries"]}
    assert changed == {"e2.1": False, "e3.1": True, "e4.1": False}


def test_an_entry_as_json(log: Path) -> None:
    """Words with their confidence, readings as whole entries, steps."""
    told = answer(log, "--entry", "e2.1")
    assert told["heard"][0]["words"][2] == {"text": "rail,", "confidence": 0.3}
    assert told["readings"][0]["zone"] == "rear-rail"
    assert told["clip"] == "clips/u2.flac"
    assert answer(log, "--entry", "e3.1")["since"][0]["why"] == "wrong side"


def test_last_is_the_newest_log(log: Path) -> None:
    """In the folder named, or in the settings'."""
    assert "pickup 12" in run("last", "--into", log.parent)


def test_what_is_not_there_is_refused(log: Path, tmp_path: Path) -> None:
    """An entry, a zone, a log."""
    with pytest.raises(UsageFault, match="no entry"):
        run(log, "--entry", "e99.1")
    with pytest.raises(UsageFault, match="no zone"):
        run(log, "--zone", "moon")
    with pytest.raises(InputFault):
        run(tmp_path / "nothing", "--plain")


def test_reading_changes_nothing(log: Path) -> None:
    """Not a byte of the journal."""
    before = (log / "journal.jsonl").read_bytes()
    run(log, "--plain")
    run(log, "--entry", "e2.1", "--json")
    assert (log / "journal.jsonl").read_bytes() == before
