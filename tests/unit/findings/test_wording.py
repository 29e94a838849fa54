"""Entries in plain words, the same for every front end."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Entry, Finding, Kind, Question
from voicelog.domain.grade import Grade
from voicelog.findings.wording import (
    SIGNS,
    condition_in_words,
    grade_in_words,
    question_in_words,
    spelt_in_words,
    what_in_words,
)


def _finding(kind: Kind = Kind.FINDING, **more: Any) -> Finding:
    return Finding(Entry("e1.1", "u1", "2026-03-14T08:05:30.000Z", kind, **more))


def test_a_fault_with_its_measures() -> None:
    """Condition, count, size, probe and surround in the order of a sentence."""
    slots = {
        "condition": "soft-spot", "count": 2, "size_mm": 25.4, "probe": "soft",
        "surround": "none", "certainty": "tentative",
    }  # fmt: skip
    told = what_in_words(_finding(slots=slots))
    assert told == "soft spot, 2 of them, 25 mm, probe soft, no solid metal around it, tentative"


def test_more_metal_than_new_is_no_loss() -> None:
    """As the voice says it; nobody reads a loss below nothing."""
    slots = {"condition": "thinning", "loss_percent": -10.0}
    assert what_in_words(_finding(slots=slots)) == "thinning, 10.0 % over nominal"


def test_a_measure_that_is_no_number_is_told_as_it_stands() -> None:
    """A log of another program's making is shown all the same, harmless."""
    assert what_in_words(_finding(slots={"condition": "hole", "size_mm": "big\x1b"})) == (
        "hole, big? mm"
    )


def test_what_is_no_fault() -> None:
    """A clear place names what was not there; a place not seen says why."""
    assert what_in_words(_finding(Kind.CLEAR, absent=("hole", "pack-rust"))) == (
        "clear, no hole, no pack rust"
    )
    assert what_in_words(_finding(Kind.NOT_SEEN, reason="mud\x1b")) == "not seen: mud?"
    assert what_in_words(_finding(Kind.PHOTO)) == "photo claimed"
    assert what_in_words(_finding(Kind.REMARK)) == condition_in_words(_finding().entry) == ""


def test_a_grade_tells_what_limits_it() -> None:
    """Unproven metal, and another grade that was spoken."""
    entry = _finding().entry
    unproven = Finding(entry, grade=Grade.REPAIR, spoken_grade=Grade.TREAT, unproven=True)
    assert grade_in_words(unproven) == "repair, metal not reached, you said treat"
    agreed = Finding(entry, grade=Grade.REPAIR, spoken_grade=Grade.REPAIR)
    assert grade_in_words(agreed) == "repair"
    assert grade_in_words(Finding(entry)) == ""


def test_every_grade_has_a_sign_of_its_own() -> None:
    """So that no colour is needed."""
    assert set(SIGNS) == set(map(str, Grade))
    assert len(set(SIGNS.values())) == len(SIGNS)


def test_a_question_and_what_was_spelled() -> None:
    """Names as they are spoken, values harmless."""
    question = Question("paint_code", ("A1", "\u202eA7"))
    assert question_in_words(question) == "which paint code: A1 or ?A7?"
    assert (
        spelt_in_words(_finding(slots={"vin": "1M8", "plate": "AB"}).entry) == "VIN 1M8, plate AB"
    )


@pytest.mark.parametrize(
    ("question", "words"),
    [
        (Question("side", ("left", "right")), "which side: left or right?"),
        (Question("face", ("interior", "inboard")), "which face: inside or inboard?"),
        (Question("zone", ("front-rail", "mid-rail", "no-such")),
         "which place: front chassis leg, floor rail or no such?"),
        (Question("odometer", ("82400 mi", "82400 km")), "which odometer: 82400 mi or 82400 km?"),
    ],
)  # fmt: skip
def test_a_question_calls_things_as_people_do(question: Question, words: str) -> None:
    """A place by its title on the map of this vehicle, not by the contract's id."""
    assert question_in_words(question, load_grammar(map_id="unibody").zone_map) == words
    assert "-" not in question_in_words(Question("zone", ("front-rail", "mid-rail")))
