"""Other readings of the same sound, and taking one of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from reviewing import at_the_bench, clip, kept, slots

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.errors import SofteningFault, UsageFault
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.opening import open_reading
from voicelog.runtime.other_readings import kept_runner_up


@pytest.fixture(autouse=True)
def loaded_once(shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log's own copy is the shipped grammar here."""
    monkeypatch.setattr(
        "voicelog.runtime.bench_log.checked_folder", lambda *_, **__: shipped_grammar
    )


def heard(parent: Path, *hypotheses: str, before: str = "", then: str = "") -> Path:
    """A log of one utterance of sound, that an ear had these ideas of, the likeliest first."""
    with open_reading(Settings(into=parent), keep=True) as session:
        if before:
            session.read(before, at_s=0.0)
        session.ear = TypedEar()
        ideas = tuple(Hypothesis(text, -float(n)) for n, text in enumerate(hypotheses))
        session.hear(clip(), heard=Heard(ideas, "built-in"))
        if then:
            session.read(then, at_s=5.0)
        assert session.folder is not None
        return session.folder


def test_each_other_idea_of_the_ear_is_offered_graded(tmp_path: Path) -> None:
    """As entries that would stand; the one that was taken is none of them, nor the same twice."""
    folder = heard(
        tmp_path, "left sill, scale", "left sill, hole", "left sill, the hole", "the kettle is on"
    )
    with at_the_bench(folder) as review:
        (other,) = review.alternatives("e2.1")
        assert (other.text, other.finding.entry.slots["condition"]) == ("left sill, hole", "hole")
        assert other.finding.grade is Grade.REPAIR
        assert review.finding("e2.1").entry.slots["condition"] == "scale"


def test_taking_it_keeps_id_utterance_and_sound(tmp_path: Path) -> None:
    """Who chose it is in no doubt; what it was once is offered no more, undo brings it back."""
    with at_the_bench(heard(tmp_path, "left sill, scale", "left sill, hole")) as review:
        (finding,) = review.take("e2.1").findings
        entry = finding.entry
        assert (entry.slots["condition"], entry.utterance, entry.doubts) == ("hole", "u2", ())
        assert review.utterance("e2.1").clip is not None
        assert review.alternatives("e2.1") == ()
        review.undo()
        assert len(review.alternatives("e2.1")) == 1


def test_what_the_probe_did_afterwards_holds_for_every_reading(tmp_path: Path) -> None:
    """The scraper went through whatever the sentence before it was."""
    folder = heard(
        tmp_path, "left sill, scale", "left floor pan, scale", then="scraper went through it"
    )
    with at_the_bench(folder) as review:
        assert slots(review, "e2.1")["condition"] == "hole"
        (other,) = review.alternatives("e2.1")
        said = other.finding.entry.slots
        assert (said["zone"], said["condition"], said["probe"]) == ("floor-pan", "hole", "through")
        (taken,) = review.take("e2.1").findings
        assert taken.entry.slots == said


def test_a_place_carried_counts_for_every_reading(tmp_path: Path) -> None:
    """The other idea names no place either."""
    with at_the_bench(heard(tmp_path, "scale", "hole", before="left sill, scale")) as review:
        (other,) = review.alternatives("e3.1")
        assert other.finding.entry.slots["zone"] == "sill"


def test_a_loss_worked_out_makes_no_other_reading(tmp_path: Path) -> None:
    """Nobody said it, and it is not kept as if somebody had."""
    said = "left sill, thinning, thickness two millimetres, nominal three millimetres"
    with at_the_bench(kept(tmp_path, said)) as review:
        assert "loss_percent" in review.finding("e2.1").entry.slots
        assert review.alternatives("e2.1") == ()
    folder = heard(tmp_path, "left sill, scale", said)
    with at_the_bench(folder) as review:
        review.take("e2.1")
        change = review.facts[-1].body["changes"][0]
        assert "loss_percent" not in change["entry"]["slots"]


def test_an_entry_split_off_has_no_readings_of_others(tmp_path: Path) -> None:
    """Its number tells nothing of its place in the utterance."""
    folder = heard(
        tmp_path,
        "hole on the left sill, crack on the right",
        "scale on the left sill, pitting on the right",
    )
    with at_the_bench(folder) as review:
        assert [a.finding.entry.slots["condition"] for a in review.alternatives("e2.2")] == [
            "pitting"
        ]
        (second,) = review.split("e2.1").findings
        assert review.alternatives(second.entry.id) == ()


def test_a_milder_reading_needs_a_reason(tmp_path: Path) -> None:
    """What is unsafe is not softened by a choice in a list."""
    folder = heard(tmp_path, "left front rail, crack", "left front rail, scale")
    with at_the_bench(folder) as review:
        with pytest.raises(SofteningFault):
            review.take("e2.1")
        review.take("e2.1", why="it says scale, listen")
        assert review.finding("e2.1").grade is not Grade.UNSAFE


@pytest.mark.parametrize("number", [1, -1, 7])
def test_a_reading_that_is_not_there(tmp_path: Path, number: int) -> None:
    """It says how many there are; a withdrawn entry has to be restored first."""
    with at_the_bench(heard(tmp_path, "left sill, scale", "left sill, hole")) as review:
        with pytest.raises(UsageFault, match="1 other reading") as caught:
            review.take("e2.1", number)
        assert caught.value.hint
        review.withdraw("e2.1")
        with pytest.raises(UsageFault, match="withdrawn"):
            review.take("e2.1")


def test_typed_words_have_no_sound(tmp_path: Path) -> None:
    """Nothing to listen to."""
    with at_the_bench(kept(tmp_path, "left sill, scale")) as review:
        utterance = review.utterance("e2.1")
        assert (utterance.clip, utterance.typed) == (None, True)
        with pytest.raises(UsageFault, match="no other reading"):
            review.take("e2.1")


@pytest.mark.parametrize(
    "reading", ["left sill", {"runner_up": "abc"}, {"runner_up": [{"do": "add"}]}, None], ids=str
)
def test_a_runner_up_that_nobody_can_read_is_passed_over(reading: object) -> None:
    """Nothing that holds depends on it; the ear's other ideas are still there."""
    entry = Entry("e2.1", "u2", "2026-03-14T08:05:30Z", Kind.FINDING, {"condition": "hole"})
    assert list(kept_runner_up(entry, {"reading": reading})) == []
