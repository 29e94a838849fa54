"""The agreed spoken examples, from text to the answer that ``--json`` prints."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from voicelog.config.settings import load_settings
from voicelog.export.answer import answer
from voicelog.runtime.opening import open_reading

CASES = [
    json.loads(line)
    for line in (Path(__file__).parent / "spoken_examples.jsonl").read_text("utf-8").splitlines()
]
PAUSE_S = 3.0
"""Between two utterances, from the end of one to the end of the next."""


def test_all_examples_are_here() -> None:
    """The file was copied whole, and no case hides another."""
    assert len({case["id"] for case in CASES}) == len(CASES) == 28


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_an_example(
    case: Mapping[str, Any],
    tmp_path: Path,
    differences: Callable[[Mapping[str, Any], Mapping[str, Any]], dict[str, Any]],
) -> None:
    """Exactly the entries wanted come out, in order, remarks aside."""
    no_settings = tmp_path / "settings.toml"
    no_settings.touch()
    settings = load_settings(case.get("settings", {}), user_file=no_settings, environ={})
    with open_reading(settings, keep=False) as session:
        for number, text in enumerate(case["say"]):
            session.read(text, at_s=number * PAUSE_S)
        entries = answer(session.inspection())["entries"]
    told = [entry for entry in entries if entry["kind"] != "remark"]
    assert [entry["kind"] for entry in told] == [wanted["kind"] for wanted in case["want"]]
    for wanted, entry in zip(case["want"], told, strict=True):
        assert differences(wanted, entry) == {}
