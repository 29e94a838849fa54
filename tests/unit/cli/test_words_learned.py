"""``voicelog words learned`` as a person sees it."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.words import words
from voicelog.config.learned import learn
from voicelog.config.settings import Settings
from voicelog.domain.lesson import Lesson
from voicelog.errors import GrammarFault, UsageFault

SEAL = Lesson("seal", "zone", "sill", "sill", 0.85)
REST = Lesson("rest", "spoken_grade", "treat", "treat", 0.8)


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Settings:
    """Of a person whose words lie in a folder of the test."""
    for name in ("XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA"):
        monkeypatch.setenv(name, str(tmp_path / "config"))
    monkeypatch.setenv("VOICELOG_LEARNED", str(tmp_path))
    monkeypatch.setenv("VOICELOG_INSPECTOR", "ann")
    monkeypatch.setattr("voicelog.runtime.words._unheard", lambda *_: ("none", None))
    return Settings(learned=tmp_path, inspector="ann")


@pytest.fixture
def two(settings: Settings) -> Settings:
    """One lesson for the shop, one for the person."""
    day = date(2026, 11, 25)
    learn(settings, SEAL, for_="shop", on=day, sentence="left seal, whole")
    learn(settings, REST, for_="person", on=day, sentence="call it rest\x1b[31m")
    return settings


def run(*arguments: str) -> Result:
    """The command's result."""
    return CliRunner().invoke(words, ["learned", *arguments])


def told(*arguments: str) -> str:
    """What it says, its exit code asserted."""
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return result.output


def test_without_lessons_it_says_where_they_come_from(settings: Settings) -> None:
    """Rather than nothing."""
    assert "Nothing was learned yet. After a correction" in told()


def test_none_for_one_is_told_of_that_one(settings: Settings) -> None:
    """There may be some for the other."""
    learn(settings, SEAL, for_="shop", on=date(2026, 11, 25))
    assert told("--for", "person").startswith("Nothing was learned for ann yet.")
    learn(settings, REST, for_="person", on=date(2026, 11, 25))
    assert run("--remove", "seal").exit_code == 0
    assert told("--for", "shop").startswith("Nothing was learned for the whole shop yet.")


def test_each_stands_under_its_file_with_all_that_is_known(two: Settings) -> None:
    """The shop's first; hostile marks are shown inert."""
    lines = told().splitlines()
    assert lines == [
        f"For the whole shop, in {two.learned}/learned-shop.toml:",
        "  “seal” → sill (zone sill), 2026-11-25, ann, from “left seal, whole”",
        f"For ann, in {two.learned}/learned-ann.toml:",
        "  “rest” → treat (spoken grade treat), 2026-11-25, ann, from “call it rest?[31m”",
    ]


def test_only_those_of_one(two: Settings) -> None:
    """``--for`` leaves the others out."""
    assert "seal" not in told("--for", "person")


def test_json_holds_the_same(two: Settings) -> None:
    """One object; what is not known is left out."""
    document = json.loads(told("--json", "--for", "shop"))
    assert document == {
        "learned": [
            {
                "heard": "seal", "slot": "zone", "value": "sill", "for": "shop",
                "file": f"{two.learned}/learned-shop.toml", "line": 8, "say": "sill",
                "on": "2026-11-25", "by": "ann", "from": "left seal, whole",
            }
        ]
    }  # fmt: skip


def test_one_is_taken_back(two: Settings) -> None:
    """It is told what it was, and from when on it holds."""
    out = told("--remove", "Seal")
    assert out.startswith("Taken back: “seal” → sill (zone sill)")
    assert "earlier logs stay as they are" in out
    assert "seal" not in told()


def test_what_was_never_learned_is_a_fault_of_usage(two: Settings) -> None:
    """With the nearest word."""
    result = run("--remove", "seel")
    assert isinstance(result.exception, UsageFault)
    assert "did you mean 'seal'" in str(result.exception)


def test_a_broken_file_is_told(two: Settings) -> None:
    """With file and line."""
    assert two.learned is not None
    (two.learned / "learned-shop.toml").write_text("learned = yes\n")
    result = run()
    assert isinstance(result.exception, GrammarFault)
    assert "learned-shop.toml:1" in str(result.exception)


def test_the_check_of_the_words_counts_them(two: Settings) -> None:
    """They are part of the words in force."""
    result = CliRunner().invoke(words, ["check", "--least", "1"])
    assert result.exit_code == 0, result.output
    assert "Learned from corrections: 2 (voicelog words learned lists them)." in result.output


def test_help_teaches(settings: Settings) -> None:
    """What it is for, and how one is taken back."""
    out = told("--help")
    assert "voicelog words learned --remove seal" in out
    assert "setting `learned`" in out.replace("\n  ", " ")
