"""A short sentence said after a finding, heard with some doubt, still tells of that finding."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Kind
from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.runtime.understanding import Understanding

_AT = "2026-03-14T09:00:00.000Z"


def _heard(confidence: float, *texts: str) -> Heard:
    """The texts that an ear considers, all of their words heard so well."""
    hypotheses = (
        Hypothesis(text, 1.0 - 0.2 * rank, tuple(Word(w, confidence) for w in text.split()))
        for rank, text in enumerate(texts)
    )
    return Heard(tuple(hypotheses), "built-in", "made up")


@pytest.mark.parametrize(
    ("confidence", "condition", "remarks"), [(0.7, "hole", 0), (0.4, "surface-rust", 1)]
)
def test_what_is_understood_whole_is_taken(confidence: float, condition: str, remarks: int) -> None:
    """Taken for talk, "scraper went straight through it" would leave a hole ungraded; a good deal less
    clear, it is kept as a remark to be listened to.
    """
    told = Understanding(Settings(), load_grammar(), None)
    texts = ("scraper went straight through it", "scraper one straight through it")
    for number, heard in enumerate(
        (Heard.typed("left kick-up, surface rust"), _heard(confidence, *texts))
    ):
        told.take(
            heard, utterance=f"u{number + 2}", at=_AT, at_s=5.0 * number, began_s=5.0 * number
        )
    found = told.inspection().findings
    assert [f.entry.slots["condition"] for f in found if f.entry.kind is Kind.FINDING] == [
        condition
    ]
    assert sum(f.entry.kind is Kind.REMARK for f in found) == remarks
