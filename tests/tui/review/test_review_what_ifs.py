"""What would have changed a grade, in the pane of the entry that is looked at."""

from __future__ import annotations

from dataclasses import replace

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.advice import WhatIf
from voicelog.domain.entry import Entry, Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.tui.review.detail_words import MOST_IFS, Detail, detail_lines
from voicelog.tui.review.marks import Known

ENTRY = Entry(
    "e2.1", "u2", "2026-03-14T08:05:30.000Z", Kind.FINDING, {"zone": "sill", "condition": "hole"}
)
FINDING = Finding(ENTRY, grade=Grade.REPAIR, computed_grade=Grade.REPAIR, rules=("hole",))


def would_be(*what_ifs: WhatIf) -> list[str]:
    """The lines of that name."""
    known = Known(load_grammar().zone_map)
    lines = detail_lines(Detail(FINDING, others=(), what_ifs=what_ifs), known, {})
    return [line.plain for name, line in lines if name == "WOULD BE"]


def unsafe(said: str, *, unproven: bool = False) -> WhatIf:
    """Something that would have made it unsafe."""
    return WhatIf(said, Grade.UNSAFE, unproven, ("hole",))


def test_it_is_told_as_grade_and_clause() -> None:
    """With the mark of what was not reached."""
    told = would_be(unsafe("the probe went through"), unsafe("it was near", unproven=True))
    assert told == [
        "unsafe if the probe went through",
        "unsafe, metal not reached, if it was near",
    ]


def test_a_few_are_told_and_the_rest_counted() -> None:
    """The command tells them all."""
    told = would_be(*(unsafe(f"number {n}") for n in range(MOST_IFS + 2)))
    assert len(told) == MOST_IFS + 1
    assert told[-1] == "and 2 more: voicelog why"


@pytest.mark.parametrize("said", ["\x1b[2J", "[bold]x[/bold]"])
def test_nothing_in_it_steers_the_screen(said: str) -> None:
    """Limits and places come from files of the shop."""
    (line,) = would_be(unsafe(said))
    assert line.isprintable()
    assert said.startswith("\x1b") or said in line


def test_nothing_would_have_changed_it() -> None:
    """Then there is no such line."""
    assert would_be() == []


def test_what_was_unsafe_before_stands_beside_it_with_the_key_that_settles_it() -> None:
    """And what was withdrawn warns of nothing any more."""
    known, before = (
        Known(load_grammar().zone_map),
        replace(ENTRY, slots={**ENTRY.slots, "side": "left"}),
    )
    gone = replace(FINDING, withdrawn=True, cautions=("Do not drive.",))
    lines = {name: line.plain for name, line in detail_lines(Detail(gone, was=before), known, {})}
    assert "UNSAFE" in lines["WAS"]
    assert lines["WAS"].endswith("left sill — hole; c confirms the change, e edits it")
    assert "CAUTION" not in lines
    assert "WAS" not in dict(detail_lines(Detail(FINDING), known, {}))
