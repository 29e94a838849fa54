"""Corrections that a mishearing explains, and those that none does."""

from __future__ import annotations

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.lesson import Lesson
from voicelog.domain.reading import Speech
from voicelog.interpret.lessons import LONGEST, Lessons
from voicelog.interpret.likeness import LEAST

LEFT = {"side": "left"}
SCALE = {"zone": "sill", "side": "left", "condition": "scale"}


@pytest.fixture(scope="module")
def lessons() -> Lessons:
    """With the shipped words."""
    grammar = load_grammar()
    return Lessons(grammar.vocabulary, grammar.zone_map)


def told(found: tuple[Lesson, ...]) -> list[tuple[str, str, str]]:
    """Words heard, slot and phrase."""
    return [(lesson.heard, lesson.slot, lesson.say) for lesson in found]


def test_words_that_were_read_as_nothing_explain_the_slot_that_was_missing(
    lessons: Lessons,
) -> None:
    """ "Seal" for sill and "whole" for hole, each its own lesson."""
    after = {**LEFT, "zone": "sill", "condition": "hole"}
    found = lessons.of_correction("left seal whole", LEFT, after)
    assert told(found) == [("seal", "zone", "sill"), ("whole", "condition", "hole")]
    assert found[0] == Lesson("seal", "zone", "sill", "sill", found[0].likeness)
    assert all(LEAST <= lesson.likeness < 1 for lesson in found)


def test_a_name_of_several_words_is_learned_whole(lessons: Lessons) -> None:
    """The more words, the less is spoilt by it."""
    after = {"zone": "front-rail", "side": "left", "condition": "surface-rust"}
    found = lessons.of_correction(
        "left front rain, surface rust", {"condition": "surface-rust"}, after
    )
    assert told(found)[0] == ("front rain", "zone", "front rail")


def test_further_slots_of_the_phrase_go_with_it(lessons: Lessons) -> None:
    """Whoever says "rings true" has tapped it, whatever was heard."""
    before = {"zone": "sill", "side": "left"}
    (one,) = lessons.of_correction("left sill, wings true", before, {**before, "probe": "firm"})
    assert (one.heard, one.say, dict(one.also)) == (
        "wings true",
        "rings true",
        {"method": "tapped"},
    )


def test_a_side_may_be_said_by_a_word_that_hangs_on_the_speaker() -> None:
    """The driver's side is left or right only for whom it is known."""
    grammar = load_grammar()
    text, before = "drivels side sill, scale", {"zone": "sill", "condition": "scale"}
    for side, wanted in (("left", ["left"]), ("right", [])):
        speech = Speech(driver_side=side)
        lessons = Lessons(grammar.vocabulary, grammar.zone_map, speech=speech)
        found = lessons.of_correction(text, before, {**before, "side": "left"})
        assert ["left" for lesson in found if lesson.slot == "seat"] == wanted


@pytest.mark.parametrize(
    ("text", "before", "after"),
    [
        ("left sill, scale", SCALE, {**SCALE, "zone": "floor-pan"}),
        ("left sill, scale", SCALE, {**SCALE, "condition": "hole"}),
        ("left sill, scale", SCALE, {**SCALE, "side": "right"}),
        ("left sill, scale", SCALE, {**SCALE, "probe": "soft"}),
        ("left sill, scale, 20 mm", {**SCALE, "size_mm": 20}, {**SCALE, "size_mm": 30}),
        ("left sill, scale", SCALE, SCALE),
        ("", {}, SCALE),
        ("just there", {}, {"zone": "fuel-tank"}),
    ],
)
def test_a_person_who_thought_better_of_it_teaches_nothing(
    lessons: Lessons, text: str, before: dict[str, str], after: dict[str, str]
) -> None:
    """Other places, faults, sides and numbers do not sound like what was heard."""
    assert lessons.of_correction(text, before, after) == ()


def test_nothing_is_learned_where_the_right_words_are_there(lessons: Lessons) -> None:
    """The sill is named; that it was taken for the carried place was no mishearing."""
    before = {"zone": "floor-pan", "condition": "scale"}
    found = lessons.of_correction("sill and cell, scale", before, {**before, "zone": "sill"})
    assert found == ()


def test_what_was_understood_rightly_is_no_part_of_a_lesson(lessons: Lessons) -> None:
    """ "Left hand" is heard as it was said, however much the "left end" sounds like it."""
    before = {"zone": "seat-belt-anchor", "side": "left", "condition": "hole"}
    found = lessons.of_correction(
        "belt anchors, left hand one has a hole", before, {**before, "face": "front"}
    )
    assert found == ()


def test_a_lesson_lies_within_a_breath(lessons: Lessons) -> None:
    """Words on both sides of a comma were not said as one, and runs are short."""
    after = {"zone": "front-rail", "condition": "hole"}
    found = lessons.of_correction("front, rain, hole", {"condition": "hole"}, after)
    assert ("front rain", "zone", "front rail") not in told(found)
    assert all(len(lesson.heard.split()) <= LONGEST for lesson in found)


def test_a_doubt_that_was_confirmed_teaches_what_was_taken_by_its_sound(lessons: Lessons) -> None:
    """ "Cell" was taken for the sill with a doubt, and a person says that it is right."""
    entry = {"zone": "sill", "side": "right", "condition": "surface-rust"}
    text = "right cell, surface rust"
    assert lessons.of_correction(text, entry, entry) == ()
    assert told(lessons.of_correction(text, entry, entry, confirmed=True)) == [
        ("cell", "zone", "sill")
    ]


def test_a_retyped_sentence_teaches_what_differs(lessons: Lessons) -> None:
    """Phrases of what was said, each with the words that were heard in its place."""
    found = lessons.of_texts("left front rain whole", "left front rail, hole")
    assert told(found) == [("front rain", "zone", "front rail"), ("whole", "condition", "hole")]


@pytest.mark.parametrize(
    ("heard", "said"),
    [
        ("left sill, scale", "left sill, scale"),
        ("left sill, scale", "right floor pan, clean"),
        ("left sill, scale", "left sill, scale, 20 mm across"),
        ("left crossmember, scale", "left cross member, scale"),
        ("left outriggers, scale", "left outrigger, scale"),
        ("", "left sill"),
        ("left sill", ""),
    ],
)
def test_a_sentence_that_was_reworded_or_completed_teaches_nothing(
    lessons: Lessons, heard: str, said: str
) -> None:
    """Other words, more words, and the same words written otherwise."""
    assert lessons.of_texts(heard, said) == ()


def test_hostile_text_does_no_harm(lessons: Lessons) -> None:
    """Marks are no words, and a very long text is read as far as the reader reads it."""
    text = "\x1b[31m left seal‮ whole\x00 " + "seal " * 2_000
    after = {**LEFT, "zone": "sill"}
    assert {lesson.say for lesson in lessons.of_correction(text, LEFT, after)} <= {"sill"}
