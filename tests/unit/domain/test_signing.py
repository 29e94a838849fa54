"""Signatures as a log holds them, and what came after them."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.domain.change_json import change_to_json
from voicelog.domain.entry import Amend, Withdraw
from voicelog.domain.fact import Fact
from voicelog.domain.signing import changed_after, entries_after, signatures
from voicelog.errors import LogFault

GOOD: dict[str, Any] = {"by": "the shop", "lines": 3, "sha256": "a" * 64, "open": []}


def _fact(seq: int, type_: str, **body: Any) -> Fact:
    return Fact(seq, "2026-03-14T09:05:30.250Z", 1.0, "0" * 64, type_, body)


def _changed(seq: int, *entries: str, type_: str = "revised") -> Fact:
    changes = [change_to_json(Withdraw(entry)) for entry in entries]
    return _fact(seq, type_, changes=changes)


def test_every_signature_is_found_in_order() -> None:
    """Whatever lies between them; open points and reason may be left out."""
    short = {name: GOOD[name] for name in ("by", "lines", "sha256")}
    facts = [_fact(4, "signed", **short), _fact(5, "listened"), _fact(6, "signed", **GOOD)]
    found = signatures(facts)
    assert [(one.seq, one.by, one.lines, one.open, one.why) for one in found] == [
        (4, "the shop", 3, (), ""),
        (6, "the shop", 3, (), ""),
    ]


@pytest.mark.parametrize(
    "wrong",
    [
        {"by": None},
        {"by": " "},
        {"lines": True},
        {"lines": 0},
        {"lines": "3"},
        {"sha256": "A" * 64},
        {"sha256": None},
        {"open": "all"},
        {"open": [7]},
        {"why": None},
    ],
)
def test_a_signature_that_cannot_be_read_is_told_with_its_line(wrong: dict[str, Any]) -> None:
    """What a stranger's log puts there is not printed."""
    with pytest.raises(LogFault, match=f"Line 4 .*'{next(iter(wrong))}'"):
        signatures([_fact(4, "signed", **{**GOOD, **wrong})])


def test_lines_that_change_entries_count_as_changed_after() -> None:
    """Said or corrected; listening, learning, closing and words that change nothing do not."""
    facts = [
        _changed(3, "e3.1"),
        _fact(4, "signed", **GOOD),
        _fact(5, "listened", utterance="u3"),
        _changed(6, "e3.1"),
        _fact(7, "utterance", utterance="u7", changes=[]),
        _changed(8, "e3.1", type_="utterance"),
        _fact(9, "closed"),
    ]
    [signature] = signatures(facts)
    assert changed_after(facts, signature) == (6, 8)


def test_pictures_the_header_and_erased_sound_count_as_changed_after() -> None:
    """The report would show them under a signature that never covered them."""
    facts = [
        _fact(2, "photo"),
        _fact(3, "vehicle", set={"odometer": "90 000 km"}),
        _fact(4, "signed", **GOOD),
        _fact(5, "photo"),
        _fact(6, "vehicle", set={"odometer": "60 000 km"}),
        _fact(7, "clip-erased", utterance="u2"),
        _fact(8, "learned"),
    ]
    [signature] = signatures(facts)
    assert changed_after(facts, signature) == (5, 6, 7)
    assert entries_after(facts) == frozenset()


def test_entries_touched_after_the_newest_signature_are_named() -> None:
    """A later signature covers what came before it."""
    amended = _fact(7, "revised", changes=[change_to_json(Amend("e9.1", {}, "correction"))])
    facts = [
        _changed(3, "e3.1"),
        _fact(4, "signed", **GOOD),
        _changed(5, "e4.1", "e5.1"),
        _fact(6, "signed", **GOOD),
        amended,
    ]
    assert entries_after(facts[:1]) == frozenset()
    assert entries_after(facts[:3]) == {"e4.1", "e5.1"}
    assert entries_after(facts[:4]) == frozenset()
    assert entries_after(facts) == {"e9.1"}
