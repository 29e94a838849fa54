"""A second ear's opinion as JSON and in words."""

from __future__ import annotations

import pytest

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.opinion import (
    Opinion,
    Verdict,
    in_words,
    opinion_from_json,
    opinion_to_json,
)

HEARD = Heard((Hypothesis("left sill hole", -1.0),), "second", "a model")


@pytest.mark.parametrize("heard", [HEARD, Heard((), "second", "a model"), None])
def test_an_opinion_is_read_as_it_was_written(heard: Heard | None) -> None:
    """With what was heard, without a word, and without an answer."""
    opinion = Opinion("unsafe", Verdict.DIFFERS, heard, 0.25)
    assert opinion_from_json(opinion_to_json(opinion)) == opinion


@pytest.mark.parametrize("wrong", [{}, {"reason": "unsafe"}, {"reason": "a", "verdict": "maybe"}])
def test_what_is_no_opinion_is_refused(wrong: dict[str, str]) -> None:
    """A later program's verdict is none that this one could show."""
    with pytest.raises((KeyError, ValueError)):
        opinion_from_json(wrong)


@pytest.mark.parametrize(
    ("verdict", "told"),
    [
        (Verdict.AGREES, "“left sill hole”: the same"),
        (Verdict.DIFFERS, "“left sill hole”: something else"),
        (Verdict.NOTHING, "heard no word"),
        (Verdict.DROPPED, "was not asked in time"),
        (Verdict.FAILED, "failed"),
    ],
)
def test_every_verdict_has_its_words(verdict: Verdict, told: str) -> None:
    """For the review, which shows them beside what the first ear heard."""
    assert in_words(Opinion("doubtful", verdict, HEARD)) == told
