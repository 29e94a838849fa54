"""When a second ear is asked, and what both ears together heard."""

from __future__ import annotations

import pytest
from second_ears import heard

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.reading import Act
from voicelog.interpret.reader import Reader
from voicelog.runtime.second_opinion import Trade, joint_reading, reason_to_ask
from voicelog.runtime.understanding import Understanding


@pytest.fixture(scope="module")
def trade(shipped_grammar: Grammar) -> Trade:
    """The words for places and faults."""
    return Trade.of(shipped_grammar.vocabulary)


@pytest.fixture(scope="module")
def reader(shipped_grammar: Grammar) -> Reader:
    """Of the shipped grammar."""
    return Reader(shipped_grammar.vocabulary, shipped_grammar.zone_map)


def _reason(grammar: Grammar, trade: Trade, *said: str | Heard) -> str:
    """Why a second ear would be asked about the last of what was said."""
    understanding, reason = Understanding(Settings(), grammar, None), ""
    for number, one in enumerate(said, 2):
        words = one if isinstance(one, Heard) else Heard.typed(one)
        done = understanding.take(
            words, utterance=f"u{number}", at="2026-01-01T00:00:00Z", at_s=5.0 * number,
            began_s=5.0 * number - 1.0,
        )  # fmt: skip
        reason = reason_to_ask(done.reading, done.findings, trade)
    return reason


@pytest.mark.parametrize(
    ("said", "reason"),
    [
        ("right control arm mount, hole, it gives", "unsafe"),
        ("cab mount, scale", "doubtful"),
        ("surface rust", "doubtful"),
        ("left sill, surface rust", ""),
        ("left front rail", ""),
        ("left sill, staining, hammered junk", "unexplained"),
        ("left seal, whole", "unentered"),
        ("pass me the ten millimetre socket", ""),
        ("what is for lunch today", ""),
        ("they had rocker panels on the shelf in town", "unentered"),
    ],
)
def test_it_is_asked_where_it_can_change_something(
    shipped_grammar: Grammar, trade: Trade, said: str, reason: str
) -> None:
    """An entry that is unsafe or doubtful, or trade words of which none came; never mere talk."""
    assert _reason(shipped_grammar, trade, said) == reason


@pytest.mark.parametrize(
    "steers", ["stand by", "affirm", "negative", "disregard that", "say again"]
)
def test_what_was_done_at_once_is_never_asked_about(
    shipped_grammar: Grammar, trade: Trade, steers: str
) -> None:
    """Not even where it touches something unsafe: it cannot be undone by a second opinion."""
    assert _reason(shipped_grammar, trade, "right control arm mount, hole, it gives", steers) == ""


def test_readings_that_contradict_one_another_are_worth_asking(
    shipped_grammar: Grammar, trade: Trade
) -> None:
    """The ear itself wavers between two sides; it is sure enough not to be doubtful."""
    either = Heard(
        (Hypothesis("left sill surface rust", -2.0), Hypothesis("right sill surface rust", -3.5)),
        "built-in",
    )  # fmt: skip
    assert _reason(shipped_grammar, trade, either) in ("contradicted", "doubtful")


def test_together_the_clearer_words_win(reader: Reader) -> None:
    """What the second ear heard explains the sentence; the first one's lacks its fault."""
    first, second = heard("left seal service breast", "built-in"), heard("left sill surface rust")
    reading = joint_reading(reader, reader.read(first), first, second)
    assert reading.text == "left sill surface rust"


def test_words_that_were_missed_take_nothing_away(reader: Reader) -> None:
    """What the second ear left out is explained the better for it, and is no other reading."""
    first = heard("front cross member twelve millimeters hole", "built-in")
    second = heard("front cross member 12 millimeters")
    reading = reader.read(first)
    assert joint_reading(reader, reading, first, second) is reading


def test_nothing_heard_changes_nothing(reader: Reader) -> None:
    """Neither an ear that was not asked nor one that heard no word."""
    first = heard("left sill surface rust", "built-in")
    reading = reader.read(first)
    assert joint_reading(reader, reading, first, None) is reading
    assert joint_reading(reader, reading, first, heard("")) is reading


def test_both_ears_never_steer_the_tool_otherwise(reader: Reader) -> None:
    """It did what the first ear heard, or did it not: a second one comes too late for that."""
    first, second = heard("left sill hold", "built-in"), heard("finish inspection")
    reading = reader.read(first)
    joint = joint_reading(reader, reading, first, second)
    assert Act.FINISH not in {statement.act for statement in joint.statements}
