"""Corrections and signatures in the whole document."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from voicelog.domain.entry import Inspection
from voicelog.domain.fact import Fact
from voicelog.errors import LogFault
from voicelog.export.answer import answer
from voicelog.export.contract import faults
from voicelog.export.document import log_document


def _by_id(document: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {entry["id"]: entry for entry in document["entries"] + document["withdrawn"]}


def test_corrections_stand_beside_their_entry(
    reviewed_facts: tuple[Fact, ...], reviewed: Inspection
) -> None:
    """Newest last, and only those of the bench: what was said is in the history."""
    entries = _by_id(log_document(reviewed_facts, reviewed))
    assert entries["e14.1"]["revised"] == [
        {
            "at": "2026-03-14T09:10:15.250Z",
            "by": "inspector",
            "did": "reread",
            "why": "misheard",
        }
    ]
    assert [one["did"] for one in entries["e10.1"]["revised"]] == ["withdraw", "undo"]
    assert "why" not in entries["e11.1"]["revised"][0]
    assert "revised" not in entries["e3.1"]


def test_what_was_touched_after_signing_is_marked(
    reviewed_facts: tuple[Fact, ...], reviewed: Inspection
) -> None:
    """That one only; before signing none is."""
    entries = _by_id(log_document(reviewed_facts, reviewed))
    assert [name for name, entry in entries.items() if "after_signing" in entry] == ["e5.1"]
    before = _by_id(log_document(reviewed_facts[:25], reviewed))
    assert not any("after_signing" in entry for entry in before.values())


def test_signatures_tell_what_was_open_and_what_changed_since(
    reviewed_facts: tuple[Fact, ...], reviewed: Inspection
) -> None:
    """Left out where there is none."""
    [signature] = log_document(reviewed_facts, reviewed)["log"]["signatures"]
    assert (signature["by"], signature["lines"], signature["changed_after"]) == (
        "inspector",
        24,
        [26],
    )
    assert signature["at"] == "2026-03-14T09:11:15.250Z"
    assert len(signature["open"]) == 1
    assert signature["why"]
    [fresh] = log_document(reviewed_facts[:25], reviewed)["log"]["signatures"]
    assert "changed_after" not in fresh
    assert "signatures" not in log_document(reviewed_facts[:24], reviewed)["log"]


def test_a_signature_without_open_points_leaves_them_out(
    reviewed_facts: tuple[Fact, ...], reviewed: Inspection
) -> None:
    """As everything that has nothing to say."""
    body = {**reviewed_facts[24].body, "open": []}
    body.pop("why")
    facts = (*reviewed_facts[:24], replace(reviewed_facts[24], body=body))
    document = log_document(facts, reviewed)
    assert set(document["log"]["signatures"][0]) == {"by", "at", "lines", "sha256"}
    assert faults(document) == ()


def test_corrections_and_signatures_leave_an_inspection_closed(
    reviewed_facts: tuple[Fact, ...], reviewed: Inspection
) -> None:
    """Only what is said opens it again; and they are no utterances."""
    header = log_document(reviewed_facts, reviewed)["log"]
    assert (header["closed"], header["utterances"]) == (True, 14)


def test_the_answer_knows_nothing_of_the_bench(reviewed: Inspection) -> None:
    """It prints entries as they stand."""
    for entry in answer(reviewed)["entries"]:
        assert not {"revised", "after_signing", "history"} & entry.keys()


def test_a_signature_that_cannot_be_read_is_told_with_its_line(
    reviewed_facts: tuple[Fact, ...], reviewed: Inspection
) -> None:
    """Rather than left out, as if nobody had signed."""
    broken = replace(reviewed_facts[24], body={"by": "inspector"})
    with pytest.raises(LogFault, match="Line 25"):
        log_document((*reviewed_facts[:24], broken), reviewed)


def test_half_characters_are_replaced_at_the_bench(
    reviewed_facts: tuple[Fact, ...], reviewed: Inspection
) -> None:
    """Names, reasons and points can be typed."""
    half = "half \ud800"
    signed = replace(
        reviewed_facts[24],
        body={**reviewed_facts[24].body, "by": half, "why": half, "open": [half]},
    )
    last = reviewed_facts[25]
    revised = replace(last, body={**last.body, "by": half, "did": half, "why": half})
    document = log_document((*reviewed_facts[:24], signed, revised), reviewed)
    assert str(document).count("half \ufffd") == 6
    assert faults(document) == ()
