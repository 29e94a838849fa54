"""A recovered log says what it lacks, and every other log nothing of the kind."""

from __future__ import annotations

import pytest

from voicelog.domain.fact import Fact
from voicelog.domain.recovery import lost_sound, recovered_from, spans, warning

AT = "2026-03-14T09:05:30.250Z"


def fact(seq: int, kind: str, **body: object) -> Fact:
    """A line."""
    return Fact(seq, AT, 0.0, "0" * 64, kind, body)


OPENED = fact(1, "opened", recovered_from={"folder": "pickup", "at": AT})


@pytest.mark.parametrize(
    ("numbers", "told"),
    [([], ""), ([7], "7"), ([9, 7, 8], "7–9"), ([1, 3, 4], "1, 3–4"),
     (range(1, 60, 2), "1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23 and 18 more")],
)  # fmt: skip
def test_numbers_in_runs(numbers: list[int], told: str) -> None:
    """Short enough for a sentence."""
    assert spans(numbers) == told


def test_only_a_log_that_lacks_something_warns() -> None:
    """One that was recovered whole does not, nor one with a line of that type and no such origin."""
    assert warning([]) == warning([OPENED]) == ""
    assert warning([fact(1, "opened"), fact(2, "left-out")]) == ""
    assert "line 2 could not be recovered. What was said there is missing" in warning(
        [OPENED, fact(2, "left-out")]
    )
    assert "line 3 could not be applied in full" in warning(
        [OPENED, fact(2, "left-out"), fact(3, "utterance", changes_lost=[{}])]
    )


def test_where_it_is_from_may_be_anything() -> None:
    """A log comes from outside."""
    assert recovered_from([OPENED])["folder"] == "pickup"
    assert recovered_from([fact(1, "opened", recovered_from="x")]) == {}


def test_what_became_of_sound() -> None:
    """Erased on a day, lost, or there."""
    said = fact(2, "utterance", clip={})
    assert lost_sound(said, "") == ""
    assert lost_sound(said, "2026-03-14 UTC") == "its sound was erased on 2026-03-14 UTC"
    assert "lost before" in lost_sound(fact(2, "utterance", clip_lost={}), "")
