"""A list of inspections on narrow and wide terminals, with damaged and hostile ones."""

from __future__ import annotations

from datetime import timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from voicelog.cli.listing_lines import listed_json, listing_lines
from voicelog.domain.grade import Gap, Grade, Verdict
from voicelog.export.contract import validate
from voicelog.runtime.inspections import CLOSED, GOING_ON, STOPPED, Listed

PARENT = Path("/logs")


def _listed(**more: Any) -> Listed:
    told: dict[str, Any] = {
        "at": "2026-03-14T08:05:30.250Z", "zone": timezone(timedelta(hours=1)), "subject": "pickup 12", "state": CLOSED,
        "verdict": Verdict("do-not-drive", "replacement-or-specialist", "beyond-repair"),
        "grades": {Grade.UNSAFE: 5, Grade.REPAIR: 12, Grade.TREAT: 7, Grade.COSMETIC: 5},
        "open_points": 11, **more,
    }  # fmt: skip
    return Listed(PARENT / "20260314T080530Z-pickup-12", **told)


def _lines(*shown: Listed, width: int = 80, all_of: int | None = None) -> list[str]:
    count = len(shown) if all_of is None else all_of
    return [line.plain for line in listing_lines(shown, PARENT, width=width, all_of=count)]


def test_eighty_columns() -> None:
    """When and what, the verdict in words, the counts, where it lies; in the time of its place."""
    assert _lines(_listed(signed="Sam", changed=True)) == [
        "2026-03-14 09:05 UTC+01:00 · pickup 12 · signed by Sam, changed since",
        "  do not drive or tow · work: replacement or specialist · frame: beyond repair",
        "  ! 5 unsafe · # 12 repair · + 7 treat · ~ 5 cosmetic · 11 open points",
        "  20260314T080530Z-pickup-12",
        "1 inspection in /logs",
    ]


def test_wide_terminals_take_fewer_lines() -> None:
    """Verdict and counts side by side."""
    assert len(_lines(_listed(), width=160)) == 4
    assert "beyond repair · ! 5 unsafe" in _lines(_listed(), width=160)[1]


@pytest.mark.parametrize("width", [60, 80, 100, 200])
def test_nothing_is_wider_than_the_terminal(width: int) -> None:
    """A long reason and a subject in wide characters too; only paths may be longer."""
    damaged = Listed(PARENT / "x", damaged="Line 7 of the journal is damaged: " + "word " * 30)
    wide = _listed(subject="検査 " * 6, signed="検" * 20)
    for line in listing_lines([_listed(), damaged, wide], PARENT, width=width, all_of=3):
        assert line.cell_len <= width or line.plain.strip().startswith("2026")


def test_a_damaged_one_is_named_with_its_reason() -> None:
    """And the verdict of none is made up."""
    lines = _lines(Listed(PARENT / "sub" / "old", damaged="Line 5 is damaged"))
    assert lines[:3] == ["(no date) · DAMAGED", "  Line 5 is damaged", "  sub/old"]


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"state": GOING_ON}, "going on now"),
        ({"state": STOPPED}, "stopped, can be gone on with"),
        ({}, "not signed"),
        ({"subject": ""}, "(no subject)"),
        ({"at": "soon"}, "soon · pickup 12"),
    ],
)
def test_its_state(more: dict[str, Any], told: str) -> None:
    """In words, not colour alone."""
    assert told in _lines(_listed(**more))[0]


def test_counts_in_words() -> None:
    """One, none, several, and how many are not shown."""
    assert "1 open point" in _lines(_listed(open_points=1))[2].split(" · ")
    assert _lines(_listed(open_points=0, grades={}))[2] == "  no findings · no open points"
    assert _lines(_listed(), all_of=3)[-1] == "1 of 3 inspections in /logs"
    assert _lines() == ["There is no inspection in /logs"]


def test_the_words_never_promise_anything() -> None:
    """No danger found is no more than that."""
    verdict = Verdict("no-danger-found-where-examined", "none", "sound")
    assert "no danger found where examined" in _lines(_listed(verdict=verdict))[1]


def test_hostile_subjects_and_names_are_shown_harmless() -> None:
    """Markup is no markup, control marks are question marks."""
    lines = _lines(_listed(subject="[bold]x[/]\x1b[31m", signed="\x07Sam"))
    assert "[bold]x[/]?[31m" in lines[0]
    assert "?Sam" in lines[0]
    assert "\x1b" not in str(listed_json([_listed(subject="\x1b")], Path("/l\x1b")))


def test_for_a_program() -> None:
    """Every grade, whether it was changed after signing; a damaged one has only its reason."""
    provisional = Verdict("not-enough-seen", "none", "unknown", (Gap("sill", None, "not-seen"),))
    good = _listed(verdict=provisional, grades={Grade.TREAT: 2})
    bad = Listed(PARENT / "old", damaged="gone")
    told = listed_json([good, bad], PARENT)
    validate(told, "list")
    assert told["inspections"][1] == {"log": "/logs/old", "damaged": "gone"}
    one = told["inspections"][0]
    assert one["findings"] == {"cosmetic": 0, "treat": 2, "repair": 0, "unsafe": 0}
    assert one["verdict"]["provisional"] is True
    assert (one["changed_after_signing"], one["open_points"]) == (False, 11)
    assert "signed_by" not in one
