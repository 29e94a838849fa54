"""What happened to an entry, told in words: who, when, what became of it, and why."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from reviewing import UNSAFE, at_the_bench, kept

from voicelog.config.grammar import Grammar
from voicelog.runtime.history_words import Step, steps
from voicelog.runtime.review import Review


@pytest.fixture
def review(
    tmp_path: Path, shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Review]:
    """A log at the bench."""
    monkeypatch.setattr(
        "voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped_grammar
    )
    said = ("left sill, scale", "scraper went through it", UNSAFE)
    with at_the_bench(kept(tmp_path, *said)) as opened:
        yield opened


def told(review: Review, entry: str) -> tuple[Step, ...]:
    """All steps of an entry."""
    return steps(review.finding(entry), review.revisions(entry), review.grammar.zone_map)


def test_what_was_said_first_is_no_step(review: Review) -> None:
    """But what was said of it later is, by the inspector."""
    (step,) = told(review, "e2.1")
    assert step.by == ""
    assert step.in_words().startswith("the inspector said more: ")
    assert "probe: not known → through" in step.changes


def test_a_correction_by_voice_is_no_addition(
    tmp_path: Path, shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever reads it later has to see that something else had been said; nor is a withdrawal."""
    monkeypatch.setattr(
        "voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped_grammar
    )
    said = (UNSAFE, "correction, surface rust", "disregard that")
    with at_the_bench(kept(tmp_path, *said)) as review:
        righted, gone = told(review, "e2.1")
        assert righted.in_words().startswith("the inspector put it right while inspecting: ")
        assert gone.in_words() == "the inspector withdrew it"


def test_every_slot_that_changed_is_named(review: Review) -> None:
    """With units, and what is dropped is not known any more."""
    review.correct("e2.1", {"side": "right", "size_mm": 4.7625}, drop=["probe"], why="wrong side")
    step = told(review, "e2.1")[-1]
    assert step.by == "Sam"
    assert step.why == "wrong side"
    assert "side: left → right" in step.changes
    assert "probe: through → not known" in step.changes
    assert any(change.startswith("size: not known → 4.76") for change in step.changes)
    assert step.in_words().endswith("Why: wrong side")


def test_withdrawing_and_undoing_are_told(review: Review) -> None:
    """An undo names what it took back."""
    review.withdraw("e4.1", why="dirt")
    review.undo()
    review.redo(why="it is dirt")
    withdrew, back, again = told(review, "e4.1")
    assert (withdrew.did, withdrew.changes) == ("withdrew it", ())
    assert back.in_words() == "Sam took back “withdrew it”: holds again"
    assert again.did == "did again “withdrew it”"
    assert again.changes == ("withdrawn",)


def test_each_step_is_about_its_own_entry(review: Review) -> None:
    """A move of two tells each what became of it."""
    review.move(["e2.1", "e4.1"], {"zone": "rear-rail"}, why="mixed up")
    assert any(c.startswith("zone: Sill → ") for c in told(review, "e2.1")[-1].changes)
    assert any(c.startswith("zone: Front rail → ") for c in told(review, "e4.1")[-1].changes)


def test_a_new_sentence_is_told_beside_the_old_one(review: Review) -> None:
    """Nothing that was heard is lost."""
    review.reread("e2.1", "right sill, crack", why="misheard")
    step = told(review, "e2.1")[-1]
    assert step.did == "had it read anew"
    assert "words: “left sill, scale” → “right sill, crack”" in step.changes


def test_hostile_names_and_reasons_are_inert(review: Review) -> None:
    """They end on a terminal."""
    review.by = "S\x1b[31mam"
    review.withdraw("e2.1", why="\u202e!")
    step = told(review, "e2.1")[-1]
    assert "\x1b" not in step.in_words()
    assert "\u202e" not in step.in_words()
