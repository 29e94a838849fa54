"""What is unsafe is not softened at the bench without a word on why, whatever the deed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from reviewing import UNSAFE, at_the_bench, kept, told

from voicelog.config.grammar import Grammar
from voicelog.domain.entry import Kind
from voicelog.domain.grade import Grade
from voicelog.errors import SofteningFault, UsageFault
from voicelog.runtime.review import Review


@pytest.fixture(autouse=True)
def loaded_once(shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log's own copy is the shipped grammar here."""
    monkeypatch.setattr(
        "voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped_grammar
    )


SOFTER: dict[str, Callable[[Review], Any]] = {
    "correct": lambda r: r.correct("e2.1", {"condition": "surface-rust"}),
    "place": lambda r: r.correct("e2.1", {"zone": "wheel-arch"}),
    "kind": lambda r: r.correct("e2.1", {}, kind=Kind.CLEAR),
    "move": lambda r: r.move(["e2.1"], {"zone": "wheel-arch"}),
    "withdraw": lambda r: r.withdraw("e2.1"),
    "reread": lambda r: r.reread("e2.1", "left front rail, surface rust"),
    "undo": lambda r: r.undo(),
}


@pytest.mark.parametrize("deed", [*SOFTER])
def test_what_is_unsafe_is_not_softened_without_a_reason(tmp_path: Path, deed: str) -> None:
    """Whatever the deed, undo included; with a reason it goes, and the reason is in the line."""
    said = UNSAFE if deed != "undo" else "left front rail, surface rust"
    with at_the_bench(kept(tmp_path, said)) as review:
        if deed == "undo":
            review.correct("e2.1", {"condition": "crack"})
        assert review.finding("e2.1").grade is Grade.UNSAFE
        facts = review.facts
        with pytest.raises(SofteningFault, match="e2.1 is unsafe and would be"):
            SOFTER[deed](review)
        assert review.facts == facts
        assert review.finding("e2.1").grade is Grade.UNSAFE
        done = _with_reason(review, deed)
        assert done.findings[0].withdrawn or done.findings[0].grade is not Grade.UNSAFE
        assert review.facts[-1].body["why"] == "it is a scratch"


def _with_reason(review: Review, deed: str) -> Any:
    """The same deed with a reason."""
    real = {"place": "correct", "kind": "correct"}.get(deed, deed)
    method = getattr(review, real)
    review.__dict__[real] = lambda *given, **named: method(*given, why="it is a scratch", **named)
    return SOFTER[deed](review)


def test_redo_and_restore_do_not_soften_silently_either(tmp_path: Path) -> None:
    """Restoring makes nothing softer; doing a softening deed again does."""
    with at_the_bench(kept(tmp_path, UNSAFE)) as review:
        review.correct("e2.1", {"condition": "surface-rust"}, why="a scratch")
        review.undo()
        with pytest.raises(SofteningFault):
            review.redo()
        review.redo(why="a scratch")
        review.undo()
        review.withdraw("e2.1", why="another vehicle")
        review.restore("e2.1")
        assert review.finding("e2.1").grade is Grade.UNSAFE


def test_merging_into_what_stays_unsafe_needs_no_reason(tmp_path: Path) -> None:
    """Nothing is lost; the other way round, something is."""
    with at_the_bench(kept(tmp_path, UNSAFE, "another one, surface rust")) as review:
        review.merge("e2.1", "e3.1")
        review.undo()
        with pytest.raises(SofteningFault):
            review.merge("e3.1", "e2.1")
        told(review.merge, "e3.1", "e2.1")


def test_a_merge_that_loses_the_worse_grade_needs_a_reason(tmp_path: Path) -> None:
    """A missing part taken into a worn hole would leave the milder one; doing it again asks no more
    than doing it did.
    """
    said = ("left cab mount, worn hole", "another one, missing part")
    with at_the_bench(kept(tmp_path, *said)) as review:
        with pytest.raises(SofteningFault, match=r"e3\.1 is repair, and what they become"):
            review.merge("e2.1", "e3.1")
        review.merge("e3.1", "e2.1")
        review.undo()
        assert review.redo().did == "redo"
        assert review.finding("e3.1").grade is Grade.REPAIR


def test_a_merge_of_two_alike_needs_no_reason(tmp_path: Path) -> None:
    """One of the two goes and the grade stays; both tell that they were merged."""
    with at_the_bench(kept(tmp_path, "left sill, hole twenty mil")) as review:
        second = review.split("e2.1").findings[-1].entry.id
        review.confirm(second)
        done = review.merge(second, "e2.1")
        assert {f.entry.id: f.withdrawn for f in done.findings} == {"e2.1": True, second: False}
        assert review.revisions(second)[-1].did == "merge"
        review.undo()
        assert not review.finding("e2.1").withdrawn
        review.redo()
        assert review.finding("e2.1").withdrawn


def test_what_was_softened_by_voice_is_open_until_it_is_confirmed(tmp_path: Path) -> None:
    """A correction in mid-inspection needs no reason; it is a point, and *confirm* settles it."""
    with at_the_bench(kept(tmp_path, UNSAFE, "correction, surface rust")) as review:
        assert review.finding("e2.1").grade is not Grade.UNSAFE
        assert "was-unsafe" in _open(review)
        review.confirm("e2.1")
        assert "was-unsafe" not in _open(review)
        review.undo()
        assert "was-unsafe" in _open(review)
        review.redo()
        assert "was-unsafe" not in _open(review)
        assert review.finding("e2.1").entry.slots["condition"] == "surface-rust"


def test_what_was_unsafe_and_withdrawn_by_voice_is_confirmed_in_the_same_way(
    tmp_path: Path,
) -> None:
    """It stays withdrawn; one that was withdrawn and never unsafe is refused as before."""
    said = (UNSAFE, "disregard that", "left front rail, surface rust", "disregard that")
    with at_the_bench(kept(tmp_path, *said)) as review:
        assert _open(review).count("was-unsafe") == 1
        review.confirm("e2.1")
        assert review.finding("e2.1").withdrawn
        assert "was-unsafe" not in _open(review)
        review.undo()
        assert review.finding("e2.1").withdrawn
        assert "was-unsafe" in _open(review)
        with pytest.raises(UsageFault, match="was withdrawn"):
            review.confirm("e4.1")


def _open(review: Review) -> list[str]:
    return [point.what for point in review.open_points()]
