"""The recording sheet as data: what is written comes back, and what is damaged is refused."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.unit.runtime.told_recordings import SHEET
from voicelog.errors import InputFault
from voicelog.yardstick.sheet import sheet_from_json, sheet_to_json

GOOD: dict[str, Any] = json.loads(json.dumps(sheet_to_json(SHEET)))


def test_what_is_written_comes_back() -> None:
    """Through JSON, every sentence and every slot."""
    assert sheet_from_json(GOOD) == SHEET


@pytest.mark.parametrize(("name", "id_"), [("02", "02"), ("2", "02"), ("002", "02"), ("9", None)])
def test_a_sentence_is_found_by_its_number(name: str, id_: str | None) -> None:
    """However many zeros somebody writes."""
    found = SHEET.item(name)
    assert (found and found.id) == id_


def _item(**changed: Any) -> dict[str, Any]:
    return {**GOOD, "items": [{**GOOD["items"][0], **changed}]}


@pytest.mark.parametrize(
    ("document", "told"),
    [
        (None, "no object"),
        ({}, "no sheet of version"),
        ({**GOOD, "voicelog_sheet": 2}, "no sheet of version"),
        ({**GOOD, "items": []}, "has no sentences"),
        ({**GOOD, "items": "x"}, "lacks the list 'items'"),
        ({**GOOD, "items": [GOOD["items"][0]] * 2}, "two sentences '01'"),
        ({**GOOD, "map": 3}, "lacks the text 'map'"),
        ({**GOOD, "seed": "1"}, "lacks the number 'seed'"),
        ({**GOOD, "before": None}, "before talk is no object"),
        (_item(id=7), "sentence 1 lacks the text 'id'"),
        (_item(say=[]), "sentence 1 says nothing"),
        (_item(say=[3]), "sentence 1 says nothing"),
        (_item(want=["rust"]), "an entry of sentence 1 is no object"),
        (_item(want=[{"kind": "finding", "colour": "red"}]), "no slot is called 'colour'"),
        (_item(want=[{"zone": "sill"}]), "kind or values are missing"),
        (_item(want=[{"kind": "finding", "zone": []}]), "kind or values are missing"),
    ],
)
def test_a_damaged_sheet_says_what_is_wrong(document: object, told: str) -> None:
    """With the next step."""
    with pytest.raises(InputFault, match=told) as fault:
        sheet_from_json(document)
    assert "voicelog measure --sheet" in fault.value.hint
