"""What the words of one utterance mean, before anything is known of what was said earlier."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pytest

from voicelog.config.grammar import load_grammar
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.reading import Act
from voicelog.interpret.reader import Reader


@pytest.fixture(scope="module")
def reader() -> Reader:
    """The shipped words and map; a reader remembers nothing between utterances."""
    grammar = load_grammar()
    return Reader(grammar.vocabulary, grammar.zone_map)


SLOTS: Mapping[str, Mapping[str, Any]] = {
    "left floor pan, three holes, biggest ten": {"condition": "hole", "count": 3, "size_mm": 10.0},
    "left sill, hole the size of a quarter": {"condition": "hole", "size_mm": 24.26},
    "left mid rail, thickness eighty thou": {"thickness_mm": 2.032},
    "left sill, hole one and a half inches": {"size_mm": 38.1},
    "left sill, crack three eighths": {"condition": "crack", "size_mm": 9.525},
    "left sill, thickness one point two, should be sixteen gauge": {
        "thickness_mm": 1.2, "nominal_mm": 1.519,
    },
    "left sill, blistering over ten percent": {"condition": "blistering", "area_percent": 10.0},
    "left sill, blistering over a third of it": {"area_percent": 33.33},
    "right rear rail, soft spot, six inches from the spring hanger": {
        "zone": "rear-rail", "mount_distance_mm": 152.4, "size_mm": None,
    },
    "left sill, might be a crack": {"condition": "crack", "certainty": "tentative"},
    "left sill, hole about ten millimetres": {"certainty": "stated", "size_mm": 10.0},
    "left sill looks fine, bit of surface rust": {"condition": "surface-rust"},
    "left sill, not rot, just dirt": {"condition": "debris"},
    "left sill is rotted out": {"condition": "hole"},
    "right sill, magnet drops off": {"condition": "filler"},
    "left sill, had been welded over": {"condition": "old-repair"},
    "uh left, no, right outrigger, scale": {"zone": "outrigger", "side": "right"},
    "body mount number two on the left, scale": {"zone": "cab-mount", "ordinal": 2},
    "tail cross member, the metal comes off in layers": {
        "zone": "rear-cross-member", "condition": "delamination",
    },
    "both front rails, surface rust": {"zone": "front-rail", "side": "both"},
}  # fmt: skip


def _agrees(wanted: Any, got: Any) -> bool:
    return bool(got == (pytest.approx(wanted, rel=0.01) if isinstance(wanted, float) else wanted))


@pytest.mark.parametrize(("text", "wanted"), SLOTS.items(), ids=list(SLOTS))
def test_slots(reader: Reader, text: str, wanted: Mapping[str, Any]) -> None:
    """One report with the slots named, lengths within 1 %; None stands for a slot left out."""
    (statement,) = reader.read(Heard.typed(text)).statements
    assert statement.act is Act.REPORT
    got = {name: statement.slots.get(name) for name in wanted}
    assert {name: v for name, v in got.items() if not _agrees(wanted[name], v)} == {}


ACTS: Mapping[str, Act] = {
    "right outrigger, is it cracked?": Act.REMARK,
    "if the left sill had a hole we would weld it": Act.REMARK,
    "tell him the left sill has a hole": Act.REMARK,
    "what time is lunch": Act.REMARK,
    "correction, right side": Act.CORRECTION,
    "no, it's just surface rust": Act.CORRECTION,
    "make that thirty five": Act.CORRECTION,
    "disregard that": Act.DISREGARD,
    "same again on the other side": Act.SAME,
    "another one": Act.ANOTHER,
    "photo": Act.PHOTO,
    "not seen, right control arm mount": Act.NOT_SEEN,
    "say again": Act.SAY_AGAIN,
    "read back": Act.READ_BACK,
    "what is open": Act.WHAT_IS_OPEN,
    "what have I missed": Act.WHAT_IS_OPEN,
    "alright, what's left to look at": Act.WHAT_IS_OPEN,
    "that's what's left of the rail": Act.REMARK,
    "stand by": Act.STAND_BY,
    "logbook go ahead": Act.GO_AHEAD,
    "affirm": Act.AFFIRM,
    "negative": Act.NEGATIVE,
    "finish inspection": Act.FINISH,
}


@pytest.mark.parametrize(("text", "act"), ACTS.items(), ids=list(ACTS))
def test_acts(reader: Reader, text: str, act: Act) -> None:
    """Questions, suppositions and talk are remarks; procedure words are what they say."""
    assert reader.read(Heard.typed(text)).statements[-1].act is act


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("front rail, surface rust on the left, a hole on the right",
         [("left", "surface-rust"), ("right", "hole")]),
        ("left sill scale, next item, tow hitch painted over",
         [("left", "scale"), (None, "recoated")]),
    ],
)  # fmt: skip
def test_two_findings_in_a_breath(
    reader: Reader, text: str, wanted: Sequence[tuple[str | None, str]]
) -> None:
    """Each has its own side and condition."""
    said = reader.read(Heard.typed(text)).statements
    assert [(s.slots.get("side"), s.slots.get("condition")) for s in said] == wanted


def test_the_attention_word_is_noticed(reader: Reader) -> None:
    """*Go ahead* alone lacks it."""
    assert reader.read(Heard.typed("logbook go ahead")).attention
    assert not reader.read(Heard.typed("go ahead")).attention


def test_a_size_out_of_bounds_is_doubtful(reader: Reader) -> None:
    """Nine metres of hole were misheard."""
    (statement,) = reader.read(Heard.typed("left sill, hole nine thousand millimetres")).statements
    assert statement.doubts


def test_nothing_heard_is_a_remark(reader: Reader) -> None:
    """No hypothesis at all gives a remark with nothing understood."""
    reading = reader.read(Heard((), engine="typed"))
    assert ([s.act for s in reading.statements], reading.score) == ([Act.REMARK], 0.0)


def test_a_worse_hypothesis_that_makes_sense_is_taken(reader: Reader) -> None:
    """The first hypothesis names nothing of the vocabulary, the second all of it."""
    heard = Heard(
        (Hypothesis("lift sail sir face trust", -1.0), Hypothesis("left sill surface rust", -1.2)),
        engine="built-in",
    )
    reading = reader.read(heard)
    assert reading.text == "left sill surface rust"
    assert reading.statements[0].slots["zone"] == "sill"


@pytest.mark.parametrize(
    ("said", "zone", "landmark"),
    [
        ("seat belt anchor on the left sill, soft", "seat-belt-anchor", "on the left sill"),
        ("left shock mount on the rear rail, hole", "shock-mount", "on the rear rail"),
        ("brake line at the left axle bracket, leak", "brake-line", "at the left axle bracket"),
    ],
)
def test_what_sits_on_a_member_is_meant_not_the_member(
    reader: Reader, said: str, zone: str, landmark: str
) -> None:
    """Else rot at a mounting would be graded as rot in the milder member."""
    (statement,) = reader.read(Heard.typed(said)).statements
    assert statement.slots["zone"] == zone
    assert statement.slots["side"] == "left"
    assert statement.slots["landmark"] == landmark
    assert statement.doubts == ()


def test_a_place_after_a_pause_is_the_next_place(reader: Reader) -> None:
    """ "On the" ties it to the place before only in one breath."""
    said = "left front rail, on the sill scale"
    zones = [s.slots.get("zone") for s in reader.read(Heard.typed(said)).statements]
    assert zones[-1] == "sill"
