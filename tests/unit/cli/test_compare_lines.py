"""A comparison as a person reads it."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.cli.compare_lines import comparison_lines
from voicelog.domain.comparison import CHANGES, Comparison, Difference, Rate, Standing
from voicelog.domain.grade import Grade
from voicelog.findings.over_time.words import NAMES


def lines(*differences: Difference, width: int = 100, **given: Any) -> list[str]:
    """What is printed for two logs of a pickup."""
    then = Standing(
        "pickup 12", "1M8GDM9AXKP042788", "ladder-frame", "not-enough-seen", "none", "fair"
    )
    now = Standing("pickup 12", "", "ladder-frame", "do-not-drive", "none", "repairable")
    known = {"older_at": "2026-01-05T08:00:00Z", "newer_at": "2027-01-05T09:30:00+01:00", **given}
    places = {"both": 2, "then": 1, "now": 0, "never": 45}
    return list(
        comparison_lines(
            Comparison(
                "a", "b", differences=differences, then=then, now=now, places=places, **known
            ),
            width,
        )
    )


def test_both_logs_stand_on_top() -> None:
    """When, what, which VIN, which map."""
    assert lines()[:2] == [
        "Then:  2026-01-05 08:00 UTC, pickup 12, VIN 1M8GDM9AXKP042788, ladder-frame",
        "Now:   2027-01-05 09:30 UTC+01:00, pickup 12, no VIN, ladder-frame",
    ]


def test_warnings_come_before_differences() -> None:
    """Nobody should read on without them."""
    told = lines(Difference("same", "sill", None, "Sill: scale."), warnings=("The VINs differ",))
    assert told[2] == "  ! The VINs differ."
    assert told.index("Same (1)") > 2


def test_sections_follow_the_worst_first_with_the_sign_of_the_worst_grade() -> None:
    """Worse above same, whatever order they come in."""
    same = Difference("same", "sill", None, "Sill.", then=Grade.TREAT, now=Grade.TREAT)
    worse = Difference("worse", "sill", None, "Rail.", then=Grade.TREAT, now=Grade.UNSAFE)
    place = Difference("not-looked-at-again", "sill", None, "Kick-up.")
    told = [line for line in lines(same, place, worse) if line.startswith("  ")]
    assert told[:3] == ["  ! Rail.", "  . Kick-up.", "  + Sill."]


def test_a_rate_stands_below_its_finding() -> None:
    """In words, indented."""
    rated = Difference("grew", "sill", None, "Sill.", rate=Rate(3.0, 2.4, 1.5, 0.4, 0.13))
    told = lines(rated)
    assert told[told.index("  . Sill.") + 1].startswith("      Wall: 3 mm then, 2.4 mm now")


def test_counts_places_and_verdicts_end_it() -> None:
    """Then and now beside each other, and what it is not."""
    text = "\n".join(lines(Difference("gone", "sill", None, "Sill.")))
    assert "In all: looked at again, nothing said 1." in text
    assert "Places looked at: 2 both times, 1 only then, 0 only now, 45 never." in text
    assert "Move it today?  not enough seen -> do not drive" in text
    assert "Work:           none, as then" in text
    assert "It certifies nothing" in text


def test_nothing_to_compare_is_said() -> None:
    """Two empty logs."""
    assert "In all: nothing to compare." in lines()


@pytest.mark.parametrize("change", CHANGES)
def test_every_change_has_a_heading(change: str) -> None:
    """None that says healed."""
    assert f"{NAMES[change].capitalize()} (1)" in lines(Difference(change, "sill", None, "Sill."))


def test_hostile_text_steers_no_terminal() -> None:
    """Wherever it may stand."""
    evil = "\x1b[2Jx‮"
    told = lines(Difference("gone", evil, None, evil), warnings=(evil,), older_at=evil)
    assert all(line.isprintable() for line in told)


def test_long_sentences_go_on_below_themselves() -> None:
    """No line wider than a page."""
    told = lines(Difference("gone", "sill", None, "word " * 60))
    assert max(map(len, told)) <= 100
    assert sum(line.startswith("    word") for line in told) >= 2
    narrow = lines(Difference("gone", "sill", None, "word " * 60), width=60)
    assert max(map(len, narrow)) <= 60
