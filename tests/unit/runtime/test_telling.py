"""What is answered to an utterance: tones and sentences, read like a conversation."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.ask import Ask, What
from voicelog.domain.entry import Entry, Kind
from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.signal import Signal, Talk
from voicelog.domain.sound import Clip
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime import telling
from voicelog.runtime.event import Event
from voicelog.runtime.numbers_aloud import measures
from voicelog.runtime.session import Session

RESUME = "logbook, go ahead"


class _Bay:
    """An inspection without a log, whose answers can be listened to."""

    def __init__(self, grammar: Grammar) -> None:
        self.grammar = grammar
        self.session = Session(Settings(), grammar, ear=TypedEar(), ask_s=8.0)
        self._at_s = 0.0

    def say(self, text: str, *, confidence: float = 1.0) -> Event:
        """One utterance; a faint one is heard with little confidence in every word."""
        self._at_s += 3.0
        words = tuple(Word(word, confidence) for word in text.split())
        heard = Heard((Hypothesis(text, 0.0, words),), engine="typed")
        return self.session.hear(Clip(b"\0\0", self._at_s, self._at_s), heard=heard)

    def said(self, event: Event, talk: Talk = Talk.FINDINGS) -> str:
        """What is spoken after it."""
        inspection = self.session.inspection()
        return telling.spoken(event, talk, self.grammar.zone_map, inspection, RESUME)


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped words, map and rules."""
    return load_grammar()


@pytest.fixture
def bay(grammar: Grammar) -> _Bay:
    """Nothing was said yet."""
    return _Bay(grammar)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("left rear rail inside, hole, 35 millimetres",
         "left rear rail, inside: hole, 35 millimetres, repair."),
        ("left rear rail, soft", "left rear rail: soft spot, gives under the probe, repair."),
        ("left kick-up, surface rust, scraper went through it",
         "left kick-up: hole, the probe went through, repair."),
        ("right rear spring hanger, crack", "right rear spring hanger: crack, unsafe."),
        ("left sill, surface rust", "left sill: surface rust."),
        ("left sill, hole 20 by 30 millimetres", "left sill: hole, 20 by 30 millimetres, repair."),
        ("front cross member, maybe a hole", "front cross member: maybe hole, repair."),
        ("left outrigger, two point two millimetres, should be three",
         "left outrigger: thinning, 2.2 millimetres left, 27 percent lost, repair."),
        ("left brake line, three to five holes", "left brake line: hole, 3 to 5 of them, unsafe."),
        ("left front rail, pits a millimetre deep", "left front rail: pitting, 1 millimetre deep, repair."),
        ("left and right sill, scale", "sill, both sides: scale, repair."),
        ("left front rail, hole, call it cosmetic",
         "left front rail: hole, repair, you said cosmetic."),
        ("left shock mount, crack, call it cosmetic",
         "left shock mount: crack, unsafe, you said cosmetic."),
        ("left sill, surface rust, unsafe", "left sill: surface rust, unsafe."),
        ("right front rail, solid, no rust", "right front rail: clear."),
        ("can't see the right kick-up for mud", "right kick-up: not seen, mud."),
        ("right kick-up photo", "right kick-up: photo."),
        ("hole", "hole: say the place."),
        ("crack on the left, 35 millimetres", "crack, left, 35 millimetres: say the place."),
        ("left rear rail, surface rust, sounds dull",
         "left rear rail: surface rust, sounds dull under the probe."),
        ("left rear rail, pitting, 1.96 millimetres left",
         "left rear rail: pitting, 1.96 millimetres left, repair."),
        ("left rear rail, pitting, 1.25 millimetres left",
         "left rear rail: pitting, 1.25 millimetres left, repair."),
        ("kettle is on", ""),
        ("left rear rail", ""),
    ],
)  # fmt: skip
def test_entries_are_read_back(bay: _Bay, words: str, said: str) -> None:
    """Place with its side, condition, main measure, a failed probe, and the grade that is bad."""
    assert bay.said(bay.say(words)) == said


@pytest.mark.parametrize(
    ("words", "tones", "everything"),
    [
        ("kettle is on", "", "remark kept."),
        ("left rear rail", "", "left rear rail."),
        ("rear rail", "", "rear rail, side not said."),
        ("left shock mount, crack", "",
         "left shock mount: crack, unsafe. Do not drive or tow this vehicle."),
        ("disregard", "there is nothing to disregard.", "there is nothing to disregard."),
        ("affirm", "no question is open.", "no question is open."),
        ("read back", "no place is known; say where you are.",
         "no place is known; say where you are."),
        ("say again", "", ""),
        ("stand by", "", "standing by; say logbook, go ahead to go on."),
    ],
)  # fmt: skip
def test_more_is_said_the_more_is_wanted(
    bay: _Bay, words: str, tones: str, everything: str
) -> None:
    """With tones alone: what was asked for, and what was refused."""
    event = bay.say(words)
    assert bay.said(event, Talk.TONES) == tones
    assert bay.said(event, Talk.EVERYTHING) == everything


@pytest.mark.parametrize(
    ("words", "asked"),
    [
        ("cab mount, scale", "cab mount, scale: which side, left or right?"),
        ("left hanger, crack",
         "left, crack, unsafe: which place, front spring hanger or rear spring hanger?"),
        ("shock mount, crack", "shock mount, crack, unsafe: which side, left or right?"),
        ("rail, scale", "scale: which place, front rail, mid rail or rear rail?"),
        ("left sill inside, scale", "left sill, inside, scale: which face, inside or inboard?"),
        ("i spell vin one mike eight golf",
         "VIN 1 mike 8 golf: it does not check. Affirm to keep it, or spell it again."),
    ],
)  # fmt: skip
@pytest.mark.parametrize("talk", list(Talk))
def test_a_question_is_asked_at_every_level(bay: _Bay, words: str, asked: str, talk: Talk) -> None:
    """And names the entry, which is not read back beside it."""
    said = bay.said(bay.say(words), talk)
    assert said.endswith(asked)
    assert said == asked or talk is Talk.EVERYTHING


def test_a_doubtful_entry_is_read_back_as_a_question(bay: _Bay) -> None:
    """ "Left rear rail, hole, affirm?" and what each answer comes to."""
    event = bay.say("left rear rail, hole", confidence=0.05)
    assert bay.said(event, Talk.TONES) == "left rear rail, hole, affirm?"
    assert telling.signal_of(event) is Signal.QUESTION
    event = bay.say("affirm")
    assert (bay.said(event, Talk.TONES), bay.said(event)) == ("", "left rear rail: hole, repair.")
    bay.say("right rear rail, hole", confidence=0.05)
    event = bay.say("negative")
    assert bay.said(event, Talk.TONES) == "withdrawn: right rear rail, hole; say it again."
    assert telling.signal_of(event) is Signal.CHANGED


def test_a_doubtful_unsafe_entry_is_asked_about_as_unsafe(bay: _Bay) -> None:
    """A question must not hide what the read-back would have said."""
    event = bay.say("left shock mount, crack", confidence=0.05)
    assert bay.said(event, Talk.TONES) == "left shock mount, crack, unsafe, affirm?"


def test_another_reading_of_an_unsafe_entry_is_offered_as_such(bay: _Bay) -> None:
    """Unsafe is what counts until it is affirmed."""
    bay.say("left shock mount, crack")
    (finding,) = bay.session.inspection().live
    ask = Ask(What.INSTEAD, finding.entry.id, instead={**finding.entry.slots, "condition": "scale"})
    asked = telling.question(ask, finding, bay.grammar.zone_map)
    assert asked == "unsafe so far; or left shock mount, scale, affirm?"


def test_the_worst_of_one_utterance_is_never_only_counted(bay: _Bay) -> None:
    """Said last of four, read back first; of equals the one said first."""
    event = bay.say(
        "left front rail, surface rust, right front rail, surface rust, left sill, scale, "
        "right shock mount, crack"
    )
    assert bay.said(event) == (
        "right shock mount: crack, unsafe. left sill: scale, repair. "
        "left front rail: surface rust. and 1 more."
    )


@pytest.mark.parametrize(
    ("slot", "number", "said"),
    [
        ("thickness_mm", 1.96, "1.96 millimetres left"),
        ("thickness_mm", 1.999999, "1.99 millimetres left"),
        ("thickness_mm", 2.3, "2.3 millimetres left"),
        ("thickness_mm", 2.0, "2 millimetres left"),
        ("thickness_mm", 1.0, "1 millimetre left"),
        ("thickness_mm", 1e30, "1" + 30 * "0" + " millimetres left"),
        ("size_mm", 35.04, "35 millimetres"),
        ("size_mm", 0.25, "0.25 millimetres"),
        ("size_mm", 1000.0, "1000 millimetres"),
        ("size_mm", 1234567.0, "1234567 millimetres"),
        ("width_mm", 100.0, "100 millimetres wide"),
    ],
)
def test_numbers_are_plain_digits(slot: str, number: float, said: str) -> None:
    """No more metal than there is, and nothing that a voice would read as an equation."""
    entry = Entry("e1", "u1", "2026-03-14T09:00:00Z", Kind.FINDING, {slot: number})
    assert list(measures(entry)) == [said]


def test_both_ends_of_a_thickness_are_rounded_down() -> None:
    """A range is no licence to round up."""
    entry = Entry(
        "e1", "u1", "2026-03-14T09:00:00Z", Kind.FINDING,
        {"thickness_mm": 1.198}, ranges={"thickness_mm": (1.198, 1.499)},
    )  # fmt: skip
    assert list(measures(entry)) == ["1.19 to 1.49 millimetres left"]


def test_a_doubt_that_nobody_settles_is_told(bay: _Bay) -> None:
    """The question lapses; the read-back says so from then on."""
    bay.say("left rear rail, hole", confidence=0.05)
    bay.say("right sill")
    bay.say("left rear rail")
    assert bay.said(bay.say("read back")) == "left rear rail: hole, repair, doubtful."
    bay.say("cab mount, scale")
    assert bay.said(bay.say("negative"), Talk.TONES) == "it stays doubtful."


@pytest.mark.parametrize("talk", list(Talk))
def test_what_was_called_otherwise_is_told_at_every_level(bay: _Bay, talk: Talk) -> None:
    """An unsafe crack does not become scale in silence, nor go away."""
    bay.say("left shock mount, crack")
    said = bay.said(bay.say("correction, scale"), talk)
    assert said.startswith("changed: left shock mount: scale")
    assert "before: crack" in said
    assert bay.said(bay.say("disregard"), talk) == "withdrawn: left shock mount, scale."


@pytest.mark.parametrize("talk", list(Talk))
def test_what_was_taken_to_another_place_is_told_at_every_level(bay: _Bay, talk: Talk) -> None:
    """A crack in a mounting does not move to where it matters less in silence."""
    bay.say("left shock mount, crack")
    said = bay.said(bay.say("correction, left cab mount"), talk)
    assert said == "changed: left cab mount: crack, repair, before: left shock mount."


def test_a_correction_of_the_side_says_the_new_one(bay: _Bay) -> None:
    """What it is has not changed."""
    bay.say("left sill, scale")
    assert bay.said(bay.say("correction, right side")) == "changed: right sill: scale, repair."


def test_unsafe_is_lowered_only_with_a_reason_and_affirm(bay: _Bay) -> None:
    """The words say so at each step, and that the verdict goes by the worse."""
    bay.say("left shock mount, crack")
    assert bay.said(bay.say("call it cosmetic"), Talk.TONES) == (
        "crack is graded unsafe by the rules; say why, then affirm, to record it as cosmetic; "
        "unsafe counts until then."
    )
    assert "no reason was said yet" in bay.said(bay.say("affirm"), Talk.TONES)
    said = bay.said(bay.say("that is because the bracket was cut"), Talk.TONES)
    assert said == (
        "recorded as cosmetic, your reason: that is because the bracket was cut. Affirm?"
    )
    assert bay.said(bay.say("affirm")) == (
        "left shock mount: crack, unsafe, you said cosmetic. "
        "kept as your word: cosmetic. The verdict goes by the worse of the two."
    )


def test_the_end_says_what_is_open_and_the_verdict(bay: _Bay) -> None:
    """Before *affirm* what nobody looked at; after it the hardest words there are.

    The end has no tone yet: it sounds once it is on disk, which is not for this utterance to say.
    """
    bay.say("left shock mount, crack")
    bay.say("cab mount, scale")
    event = bay.say("finish inspection")
    asked = bay.said(event, Talk.TONES)
    assert asked.endswith(
        "1 where the metal was not reached, 1 doubtful. Finish the inspection: affirm?"
    )
    assert asked.split()[1:5] == ["places", "not", "looked", "at,"]
    assert "1 mounting not probed" in asked
    assert bay.said(bay.say("negative")) == "the inspection goes on."
    bay.say("finish inspection")
    assert telling.signal_of(bay.say("affirm")) is None
    verdict = telling.finished(bay.session.inspection())
    assert verdict.startswith("Do not drive. Work: ")
    assert "places not looked at" in verdict


def test_a_zone_is_read_back_the_worst_first(bay: _Bay) -> None:
    """Of equals the newest; what does not fit is counted."""
    assert bay.said(bay.say("left rear rail")) == ""
    assert bay.said(bay.say("read back")) == "rear rail: nothing said yet."
    for words in ("left rear rail, surface rust", "right side, crack", "left side, hole"):
        bay.say(words)
    everything = (
        "right rear rail: crack, unsafe. left rear rail: hole, repair. left rear rail: surface rust"
    )
    here, zone_map = {"zone": "rear-rail"}, bay.grammar.zone_map
    inspection = bay.session.inspection()
    assert telling.zone_read_back(inspection, here, zone_map) == everything
    short = telling.zone_read_back(inspection, here, zone_map, most=1)
    assert short == "right rear rail: crack, unsafe. and 2 more"


@pytest.mark.parametrize(
    ("words", "signal"),
    [
        ("left shock mount, crack", Signal.UNSAFE),
        ("hanger, crack", Signal.UNSAFE),
        ("cab mount, scale", Signal.QUESTION),
        ("hole", Signal.DOUBTFUL),
        ("left sill, scale", Signal.FINDING),
        ("left sill, solid, no rust", Signal.FINDING),
        ("left sill, photo", Signal.FINDING),
        ("kettle is on", Signal.REMARK),
        ("left rear rail", Signal.REMARK),
        ("disregard", Signal.REFUSED),
        ("stand by", Signal.STANDING_BY),
        ("logbook go ahead", Signal.LISTENING),
        ("finish inspection", Signal.QUESTION),
        ("say again", None),
        ("read back", None),
        ("left shock mount, crack, say again", Signal.UNSAFE),
        ("left shock mount, crack, read back", Signal.UNSAFE),
        ("left sill, scale, say again", Signal.FINDING),
    ],
)
def test_the_tone_tells_the_worst_first(bay: _Bay, words: str, signal: Signal | None) -> None:
    """What a person must know first, in one tone."""
    assert telling.signal_of(bay.say(words)) is signal


@pytest.mark.parametrize(
    ("words", "signal"),
    [
        ("thirty millimetres", Signal.CHANGED),
        ("correction, hole", Signal.CHANGED),
        ("disregard", Signal.CHANGED),
        ("call it unsafe", Signal.UNSAFE),
    ],
)
def test_the_tone_of_a_change(bay: _Bay, words: str, signal: Signal) -> None:
    """An earlier entry; if that is unsafe now, this comes first."""
    bay.say("left sill, scale")
    assert telling.signal_of(bay.say(words)) is signal


def test_nothing_sounds_in_stand_by(bay: _Bay) -> None:
    """Neither tone nor word: nothing was kept."""
    bay.say("stand by")
    event = bay.say("left sill, hole")
    assert telling.signal_of(event) is None
    assert [bay.said(event, talk) for talk in Talk] == ["", "", ""]
    assert bay.said(bay.say("logbook go ahead")) == "listening."


def test_an_unknown_place_still_says_its_side(bay: _Bay) -> None:
    """A log's own map may lack a zone; what a stranger wrote cannot steer a terminal."""
    zone_map = bay.grammar.zone_map
    assert telling.place({"zone": "winch-post", "side": "left"}, zone_map) == "winch post, left"
    assert telling.place({"zone": "\x1b[31m"}, zone_map) == "?[31m, side not said"
    assert telling.place({}, zone_map) == "place not settled, side not said"


@pytest.mark.parametrize(
    ("sentence", "words"),
    [
        (lambda: telling.microphone_lost("desk", "it was unplugged"),
         "the microphone desk is gone: it was unplugged; nothing is heard until it is back"),
        (lambda: telling.microphone_back("desk", 12.3),
         "the microphone desk is back after 12 seconds; say again what was said meanwhile"),
        (lambda: telling.microphone_back("\x1b[2J"),
         "the microphone ?[2J is back; say again what was said meanwhile"),
        (lambda: telling.standing_by(""), "standing by"),
        (lambda: telling.cautions(["Trust stands, not a jack alone."]),
         "Trust stands, not a jack alone. Affirm when that is done."),
        (telling.too_loud, "too loud to hear words; wait, or come closer"),
    ],
)  # fmt: skip
def test_what_the_tool_says_of_itself(sentence: Callable[[], str], words: str) -> None:
    """What is the matter, and the next step."""
    assert sentence() == words


@pytest.mark.parametrize("word", ["safe", "passed", "roadworthy", "certified"])
def test_nothing_is_ever_called_safe(bay: _Bay, word: str) -> None:
    """The tool grades what was said; it certifies nothing."""
    said = [
        bay.said(bay.say(words), Talk.EVERYTHING)
        for words in ("left rear rail, solid, no rust", "read back", "finish inspection", "affirm")
    ]
    said.append(telling.finished(bay.session.inspection()))
    assert not any(re.search(rf"\b{word}\b", sentence) for sentence in said)
