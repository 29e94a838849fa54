"""A second look at sentences that lack something, over a vocabulary of a few phrases."""

from __future__ import annotations

import pytest

from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Statement
from voicelog.interpret.reader import Reader


def _read(reader: Reader, text: str) -> Statement:
    (statement,) = reader.read(Heard.typed(text)).statements
    return statement


def _told(statement: Statement) -> tuple[object, ...]:
    return tuple(statement.slots.get(name) for name in ("zone", "side", "condition"))


LACKING = {
    "a place": ("left front rain, surface rust", ("front-rail", "left", "surface-rust")),
    "a place of one word": ("left outtrigger, scale", ("outrigger", "left", "scale")),
    "a place in two words": ("left out rigger, scale", ("outrigger", "left", "scale")),
    "a place, its end odd": ("gearbox crossed number, scale", ("gearbox-cross-member", None, "scale")),
    "a fault": ("left outrigger, skull", ("outrigger", "left", "scale")),
    "a fault of two words": ("left outrigger, surface roast", ("outrigger", "left", "surface-rust")),
    "a fault, no word of it odd": ("left outrigger, hull", ("outrigger", "left", "hole")),
    "a side": ("lift outrigger, scale", ("outrigger", "left", "scale")),
    "the other side": ("rite outrigger, scale", ("outrigger", "right", "scale")),
    "a side behind its name": ("outrigger lift, scale", ("outrigger", "left", "scale")),
    "a side tied to its name": ("outrigger on the loft, scale", ("outrigger", "left", "scale")),
    "an end that sounds like no name": ("left print rails, scale", ("front-rail", "left", "scale")),
    "an end": ("left rare rail, scale", ("rear-rail", "left", "scale")),
    "a place and a side": ("lift front rain, scale", ("front-rail", "left", "scale")),
    "a side and a fault": ("lift outrigger, surface roast", ("outrigger", "left", "surface-rust")),
}  # fmt: skip


@pytest.mark.parametrize(("text", "told"), LACKING.values(), ids=list(LACKING))
def test_what_is_lacking_is_found(
    small_reader: Reader, text: str, told: tuple[str | None, ...]
) -> None:
    """Place, side and condition as if every word had been heard rightly."""
    assert _told(_read(small_reader, text)) == told


@pytest.mark.parametrize(
    ("complete", "odd"),
    [
        ("left front rail, surface rust", "skull on the bench"),
        ("left outrigger, scale", "crossed number on the bench"),
        ("left front rail, surface rust", "rest"),
        ("right outrigger, scale", "lift"),
        ("gearbox cross member, scale", "rite"),
    ],
)
def test_a_complete_sentence_is_never_touched(
    small_reader: Reader, complete: str, odd: str
) -> None:
    """Words behind it that sound like a place, a fault or a side stay what they are."""
    alone, more = _read(small_reader, complete), _read(small_reader, f"{complete}, {odd}")
    assert more.slots == alone.slots
    assert (alone.doubts, more.doubts) == ((), ())


@pytest.mark.parametrize(
    "text",
    [
        "pass me the left front rain",
        "tell him surface roast, left outrigger",
        "is that the left front rain, surface rust",
        "skull on the bench",
        "lift the van",
        "the rest of the paint",
    ],
)
def test_talk_is_never_touched(small_reader: Reader, text: str) -> None:
    """Orders, questions, and words that hold nothing of a report: remarks without a slot."""
    statement = _read(small_reader, text)
    assert (statement.act, dict(statement.slots)) == (Act.REMARK, {})


@pytest.mark.parametrize(
    "text",
    [
        "left outrigger, the rest of the paint",
        "left outrigger is on the bench",
        "the left outrigger of the van",
        "left outrigger, lean",
        "left outrigger, somebody yesterday said skull anyway",
    ],
)
def test_a_place_alone_gets_no_fault_from_idle_words(small_reader: Reader, text: str) -> None:
    """Known words that only remotely sound like a fault, and sentences about something else."""
    assert _told(_read(small_reader, text)) == ("outrigger", "left", None)


def test_an_odd_word_that_sounds_like_nothing_mends_nothing(small_reader: Reader) -> None:
    """ "Which rail" is asked rather than guessed, and the word told."""
    statement = _read(small_reader, "left grommet rail, scale")
    assert "zone" not in statement.slots
    assert [question.slot for question in statement.questions] == ["zone"]
    assert any("grommet" in doubt for doubt in statement.doubts)


def test_one_that_comes_once_needs_no_side(small_reader: Reader) -> None:
    """ "Lift" before a place without sides is not taken for one."""
    assert "side" not in _read(small_reader, "lift gearbox cross member, scale").slots


@pytest.mark.parametrize(
    ("text", "doubtful"),
    [
        ("lift outrigger, scale", False),
        ("left front rain, surface rust", False),
        ("left outrigger, skull", True),
        ("left outrigger, whole", True),
        ("lift front rain, scale", True),
        ("gearbox crossed number, skull", True),
    ],
)
def test_what_is_a_guess_is_marked(small_reader: Reader, text: str, doubtful: bool) -> None:
    """A fault taken by likeness, and two things mended at once; a lone side or place is not."""
    assert bool(_read(small_reader, text).doubts) is doubtful
