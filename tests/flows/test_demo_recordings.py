"""The first recordings of the demo through the real ear."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from voicelog.config.data import samples_dir
from voicelog.config.settings import load_settings
from voicelog.runtime.listening import hear_files
from voicelog.runtime.opening import open_listening

QUIET = ("d01", "d05", "d07", "d09", "d17", "d20", "d21", "d22")
"""Without noise, and each with a place of its own."""
ENOUGH = 6
"""Of eight; the small ear may mishear a word or two, and must not get much worse."""
COMPARED = ("zone", "side", "condition")


def _quiet() -> list[dict[str, Any]]:
    manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
    return [one for one in manifest["utterances"] if one["id"] in QUIET]


def _said(entry: Mapping[str, Any]) -> tuple[Any, ...]:
    return (entry["kind"], *(entry.get(name) for name in COMPARED))


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, list[tuple[Any, ...]]]:
    """Recording id to the entries it made, remarks aside, heard as one inspection."""
    folder = tmp_path_factory.mktemp("demo")
    no_settings = folder / "settings.toml"
    no_settings.touch()
    flags = {"into": folder, "ear": "built-in"}
    settings = load_settings(flags, user_file=no_settings, environ={})
    entries: dict[str, list[tuple[Any, ...]]] = {}
    with open_listening(settings) as session:
        for one in _quiet():
            path: Path = samples_dir() / one["file"]
            entries[one["id"]] = [
                _said({"kind": str(finding.entry.kind), **finding.entry.slots})
                for event in hear_files(session, [path], settings)
                for finding in event.findings
                if finding.entry.kind != "remark"
            ]
    return entries


def test_most_are_exact(told: Mapping[str, list[tuple[Any, ...]]]) -> None:
    """Kind, zone, side and condition as the manifest wants them, nothing more and nothing less."""
    wanted = {one["id"]: [_said(want) for want in one["want"]] for one in _quiet()}
    assert set(wanted) == set(QUIET)
    wrong = {name: (wanted[name], got) for name, got in told.items() if got != wanted[name]}
    assert len(QUIET) - len(wrong) >= ENOUGH, wrong


def test_a_probe_said_in_the_next_breath_is_never_lost(tmp_path: Path) -> None:
    """ "Scraper went straight through it": a short sentence without a place, heard with some doubt, by
    whatever ears are installed; taken for talk, it would leave a hole ungraded.
    """
    (tmp_path / "settings.toml").touch()
    flags = {"into": tmp_path, "ear": "built-in"}
    settings = load_settings(flags, user_file=tmp_path / "settings.toml", environ={})
    paths = [samples_dir() / f"{name}.flac" for name in ("d29", "d30")]
    with open_listening(settings) as session:
        *_, last = hear_files(session, paths, settings)
    [finding] = last.findings
    assert (finding.entry.slots["condition"], finding.entry.slots["probe"]) == ("hole", "through")
