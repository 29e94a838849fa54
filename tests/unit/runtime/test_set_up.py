"""What is asked before an inspection opens, and which answers settle it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from voicelog.config.settings import Settings
from voicelog.domain.reading import Speech
from voicelog.domain.zone import Rails
from voicelog.runtime.set_up import SetUpQuestion, answer_to, phrases_of, questions, settled

SIDE = SetUpQuestion("driver_side", "Driver's side: left or right?", ("left", "right"))
SUBJECT = SetUpQuestion("subject", "What is being inspected?")


def test_what_flags_have_said_is_not_asked() -> None:
    """Everything given: nothing is left to ask."""
    given = Settings(rails=Rails.OPEN, speech=Speech(driver_side="left"))
    assert list(questions(given, "pickup 12", stood="lift")) == []


def test_what_is_open_is_asked_the_subject_first() -> None:
    """Nothing given: what it is, whose left, how it is built, how it stands."""
    asked = [question.setting for question in questions(Settings(), "")]
    assert asked == ["subject", "driver_side", "rails", "stood"]


def test_the_map_is_asked_only_where_there_is_a_choice() -> None:
    """One map is no question, and a map that was chosen is none either."""
    maps = ("ladder-frame", "unibody")
    asked = [question.setting for question in questions(Settings(), "x", maps)]
    assert asked == ["map", "driver_side", "rails", "stood"]
    assert "map" not in [q.setting for q in questions(Settings(), "x", maps[:1])]
    assert "map" not in [q.setting for q in questions(Settings(), "x", maps, map_given=True)]


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        ("Left.", "left"),
        ("on the RIGHT, please", "right"),
        ("left or right", None),
        ("the leftover one", None),
        ("", None),
    ],
)
def test_an_answer_names_one_option(text: str, answer: str | None) -> None:
    """Whatever stands around it; two options, or none, settle nothing."""
    assert answer_to(SIDE, text) == answer


def test_an_option_of_several_words_is_said_without_its_hyphen() -> None:
    """ "Ladder frame" is how a person says it."""
    map_question = SetUpQuestion("map", "Which map?", ("ladder-frame", "unibody"))
    assert answer_to(map_question, "the ladder frame one") == "ladder-frame"


def test_a_subject_is_any_words_made_harmless() -> None:
    """Control characters, line ends and endless talk do not get into a name."""
    assert (
        answer_to(SUBJECT, " the grey\x1b[31m pickup,\n number 12. ")
        == "the grey [31m pickup, number 12"
    )
    assert len(answer_to(SUBJECT, "pickup " * 1000) or "") <= 120
    assert answer_to(SUBJECT, " ... ") is None


def test_answers_become_settings() -> None:
    """Each in its place; the subject is none."""
    settings = settled(settled(Settings(), "driver_side", "right"), "rails", "boxed")
    assert settings.speech.driver_side == "right"
    assert settings.rails is Rails.BOXED
    assert settled(settings, "map", "unibody").map == "unibody"
    assert settled(settings, "subject", "pickup") == settings
    assert replace(settings, rails=Rails.MIXED) == settled(Settings(), "driver_side", "right")


@pytest.mark.parametrize(
    "text", ["it's not a unibody", "no, not the ladder frame", "isn't a backbone"]
)
def test_what_it_is_not_is_no_answer(text: str) -> None:
    """It is asked again rather than taken for what was ruled out."""
    asked = SetUpQuestion("map", "Which map?", ("backbone", "ladder-frame", "unibody"))
    assert answer_to(asked, text) is None


def test_an_ear_listens_for_the_answers_and_for_skip() -> None:
    """By every name that an answer has; for a subject there is nothing to listen for."""
    asked = [*questions(Settings(), "van", ("ladder-frame", "unibody"))]
    phrases = phrases_of(asked)
    for question in asked:
        assert all(answer_to(question, option.replace("-", " ")) for option in question.options)
    assert {"monocoque", "ladder frame", "boxed", "on a lift", "skip"} <= set(phrases)
    assert phrases_of([SetUpQuestion("subject", "What is being inspected?")]) == ()
