"""voicelog's own column measures what the program does."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from corpus import Hearing, case_of, utter
from own import settings_of, understand

from voicelog.runtime.opening import open_reading
from voicelog.yardstick.strict import Answer, answer_of

EXAMPLES = Path(__file__).parents[2] / "flows" / "spoken_examples.jsonl"
CASES = [json.loads(line) for line in EXAMPLES.read_text(encoding="utf-8").splitlines()]


def session_says(document: dict[str, Any]) -> Answer:
    """The same utterances in a session of the program."""
    case = case_of(document, "examples", "hand")
    settings = settings_of(tuple(sorted(case.settings.items())))
    with open_reading(settings, keep=False) as session:
        for text, at_s in zip(case.say, case.at_s, strict=True):
            session.read(text, at_s=at_s)
        return answer_of(session.inspection())


@pytest.mark.parametrize("document", CASES[::3], ids=lambda document: document["id"])
def test_it_understands_what_a_session_does(document: dict[str, Any]) -> None:
    """The bench puts reader, dialogue and ledger together itself, to keep the reader."""
    case = case_of(document, "examples", "hand")
    assert understand(utter(case, Hearing()), case.settings) == session_says(document)


def test_remarks_are_no_entries_but_keep_their_tags() -> None:
    """As the scorer wants it."""
    made = session_says({"id": "x", "say": ["sill, hole", "driven on salted roads every winter"],
                         "want": []})  # fmt: skip
    assert [got.slots["kind"] for got in made.entries] == ["finding"]
    assert made.tags == {"winter-salt"}
