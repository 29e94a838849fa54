"""Whole sentences at the bench: said in several steps, corrected in one breath, or idle."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from reviewing import at_the_bench, kept, slots

from voicelog.config.grammar import Grammar
from voicelog.errors import SofteningFault, UsageFault
from voicelog.journal.reading import verify
from voicelog.runtime.review import Review

SAID = (
    "left sill, surface rust, metal is firm",  # e2.1
    "the kettle is on",  # e3.1, a remark
    "right sill, scale",  # e4.1
    "left sill, hole, and a crack in the weld",  # e5.1, e5.2
    "left front rail, crack",  # e6.1
    "left kick-up, surface rust, metal is firm",  # e7.1
    "scraper went through it",
)


@pytest.fixture(autouse=True)
def loaded_once(shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log's own copy is the shipped grammar here."""
    monkeypatch.setattr(
        "voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped_grammar
    )


@pytest.fixture(scope="module")
def inspected(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """That inspection, said once."""
    return kept(tmp_path_factory.mktemp("said"), *SAID)


@pytest.fixture
def review(inspected: Path, tmp_path: Path) -> Iterator[Review]:
    """A copy of it, open for reviewing; in the end its log is whole."""
    folder = shutil.copytree(inspected, tmp_path / "log")
    with at_the_bench(folder) as opened:
        yield opened
    assert verify(folder).ok


THROUGH = "left sill, surface rust, next item, the scraper went through it"


def test_a_sentence_typed_anew_keeps_what_its_second_half_says_of_the_first(
    review: Review,
) -> None:
    """The scraper went through: what only the first half says would hide a hole."""
    review.reread("e2.1", THROUGH)
    now = slots(review, "e2.1")
    assert (now["condition"], now["probe"]) == ("hole", "through")


def test_a_sentence_added_keeps_it_as_well(review: Review) -> None:
    """As if it had been said under the vehicle."""
    (new,) = review.add(THROUGH).findings
    assert (new.entry.slots["condition"], new.entry.slots["probe"]) == ("hole", "through")


def test_what_the_probe_did_a_sentence_later_holds_on(review: Review) -> None:
    """Another place or another fault does not close the hole; a correction can."""
    (seen,) = review.read_as("right kick-up, scale, metal is firm", entry="e7.1")
    (finding,) = review.reread("e7.1", "right kick-up, scale, metal is firm").findings
    assert seen.entry.slots == finding.entry.slots
    assert (finding.entry.slots["side"], finding.entry.slots["probe"]) == ("right", "through")
    assert finding.entry.slots["condition"] == "hole"
    review.correct("e7.1", {"condition": "scale", "probe": "firm"})
    review.reread("e7.1", "left kick-up, scale")
    assert "probe" not in slots(review, "e7.1")


def test_a_slip_put_right_in_the_same_sentence_makes_no_second_entry(review: Review) -> None:
    """The entry becomes what the sentence comes to."""
    done = review.reread("e2.1", "left sill, hole, correction, right side")
    (finding,) = done.findings
    assert finding.entry.id == "e2.1"
    assert (finding.entry.slots["condition"], finding.entry.slots["side"]) == ("hole", "right")


def test_a_slip_put_right_in_an_added_sentence_counts(review: Review) -> None:
    """The first word would put the hole on the wrong side."""
    (new,) = review.add("left sill, hole, correction, right side").findings
    assert (new.entry.slots["condition"], new.entry.slots["side"]) == ("hole", "right")


def test_what_a_sentence_takes_back_itself_is_not_added(review: Review) -> None:
    """Nothing is left of it."""
    with pytest.raises(UsageFault, match="Nothing was understood"):
        review.add("left sill, hole, disregard that")


@pytest.mark.parametrize("words", ["left side", "stand by", "read back", "affirm"])
@pytest.mark.parametrize("entry", ["e2.1", "e3.1"])
def test_words_that_make_no_entry_are_refused(review: Review, entry: str, words: str) -> None:
    """For a remark as for any other entry, with what can be done instead."""
    with pytest.raises(UsageFault) as caught:
        review.reread(entry, words)
    assert "withdraw it" in caught.value.hint


@pytest.mark.parametrize("words", ["another one", "same again on the left"])
def test_words_about_another_entry_do_not_stand_for_this_one(review: Review, words: str) -> None:
    """They would leave it as it is, and add one that nobody asked for."""
    with pytest.raises(UsageFault, match="Nothing about the metal"):
        review.reread("e4.1", words)


def test_a_remark_can_be_typed_anew(review: Review) -> None:
    """As another remark, or as what it should have been heard as."""
    review.reread("e3.1", "the lamp is on")
    assert review.finding("e3.1").entry.text == "the lamp is on"
    review.reread("e3.1", "left kick-up, hole")
    assert slots(review, "e3.1")["condition"] == "hole"


def test_a_measure_alone_is_added_to_the_entry(review: Review) -> None:
    """As if it had been said after it."""
    review.reread("e4.1", "thirty millimetres")
    assert slots(review, "e4.1") | {"size_mm": 30.0, "condition": "scale"} == slots(review, "e4.1")


def test_disregard_withdraws_and_asks_why_where_it_is_unsafe(review: Review) -> None:
    """A sentence is no way around the reason."""
    with pytest.raises(SofteningFault):
        review.reread("e6.1", "disregard that")
    review.reread("e4.1", "disregard that")
    assert review.finding("e4.1").withdrawn


def test_a_milder_word_leaves_unsafe_as_it_is(review: Review) -> None:
    """It is kept beside what the rules give."""
    (finding,) = review.reread("e6.1", "call it cosmetic").findings
    assert (finding.grade, finding.spoken_grade) == ("unsafe", "cosmetic")


def test_splitting_loses_nothing_of_the_second_half(review: Review) -> None:
    """An entry merged of three, parted after the first: two new ones, heard where it was heard."""
    review.merge("e5.1", "e2.1")
    review.merge("e5.1", "e5.2")
    words = review.finding("e5.1").entry.text.partition(";")[0].split()
    done = review.split("e5.1", at_word=len(words))
    found = [finding.entry for finding in done.findings]
    assert [e.slots["condition"] for e in found] == ["hole", "surface-rust", "crack"]
    assert [e.id for e in found] == ["e5.1", f"e{done.seq}.2", f"e{done.seq}.3"]
    assert {e.utterance for e in found} == {"u5"}
