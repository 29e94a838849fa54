"""The Vosk ear against a stand-in that honours the library's calls."""

from __future__ import annotations

import sys
from pathlib import Path

import fake_vosk
import pytest

from voicelog.domain.heard import Word
from voicelog.errors import EarFault
from voicelog.recognise.port import ANYTHING, Expected
from voicelog.recognise.vosk_engine import VoskEar
from voicelog.recognise.vosk_results import hypotheses

MODEL = Path("/models/vosk-model-small-en-us-0.15")
SPEECH = b"\x00\x10" * 16_000
"""One second."""


@pytest.fixture
def library() -> object:
    """The stand-in."""
    return fake_vosk.FakeVosk(known=("left", "rail"))


@pytest.fixture
def ear(library: object) -> VoskEar:
    """An ear over it."""
    return VoskEar(MODEL, library=library)


def test_hypotheses_come_with_times(ear: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """Words have times from the beginning of the utterance; the model is named by its folder."""
    library.script = [["left rail", "left rain"]]
    ear.feed(SPEECH)
    heard = ear.finish()
    assert (heard.engine, heard.model) == ("vosk", "vosk-model-small-en-us-0.15")
    assert [h.text for h in heard.hypotheses] == ["left rail", "left rain"]
    assert heard.hypotheses[0].score > heard.hypotheses[1].score
    assert heard.hypotheses[0].words == (
        Word("left", 1.0, 0.1, 0.3),
        Word("rail", 0.731, 0.4, 0.6),
    )


def test_times_begin_anew_with_each_utterance(ear: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """One recogniser hears them all, and its own clock goes on."""
    library.script = [["left"], ["rail"]]
    ear.feed(SPEECH * 3)
    ear.finish()
    ear.feed(SPEECH)
    assert ear.finish().hypotheses[0].words[0].start_s == pytest.approx(0.1)
    assert len(library.made) == 1


def test_segments_of_one_utterance_are_joined(ear: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """Where the library sees an end of its own, the utterance goes on; times stay right."""
    library.script = [["left rail"], [""], ["hole", "whole"]]
    ear.feed(SPEECH + bytes(3200))
    ear.feed(bytes(3200))
    assert ear.partial() == "left rail hole"
    ear.feed(SPEECH)
    heard = ear.finish()
    assert [h.text for h in heard.hypotheses] == ["left rail hole", "left rail whole"]
    assert heard.hypotheses[0].words[2].start_s == pytest.approx(1.3)


def test_silence_and_nothing_give_no_hypotheses(ear: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """An empty text is nothing heard; so is no sound at all."""
    assert ear.partial() == ""
    assert ear.finish().hypotheses == ()
    library.script = [[""]]
    ear.feed(bytes(32_000))
    assert ear.finish().hypotheses == ()


def test_library_is_set_up_as_needed(ear: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """Quiet, with words and with many alternatives."""
    ear.feed(SPEECH)
    assert library.log_level == -1
    assert (library.made[0].words, library.made[0].most) == (True, 32)


def test_unknown_words_are_found(ear: VoskEar) -> None:
    """In order, whatever their case."""
    assert ear.unknown_words(["Left", "outrigger", "rail", "sill"]) == ("outrigger", "sill")


@pytest.fixture
def both(library: fake_vosk.FakeVosk) -> VoskEar:
    """An ear with a vocabulary, of which the model knows all but one word."""
    library.known = ("[unk]", "left", "rail", "hole", "go", "ahead", "rain")
    return VoskEar(MODEL, ("left rail", "hole", "outrigger", "go ahead"), library=library)


def test_both_recognisers_make_one_heard(both: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """What the limited one put right stands beside what the free one heard, a letter behind."""
    library.script, library.limited = [["left rain"]], ["left rail"]
    both.feed(SPEECH)
    free, limited = both.finish().hypotheses
    assert (free.text, limited.text) == ("left rain", "left rail")
    assert free.score - limited.score == pytest.approx(1.0)
    assert limited.words[1] == Word("rail", 0.675, 0.4, 0.6)


def test_times_of_both_begin_anew(both: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """Each has a clock of its own, and what is forgotten passes only on the free one's."""
    library.script, library.limited = [["left rain"], [""], ["left rain"]], ["left rail"] * 2
    both.feed(SPEECH)
    both.finish()
    both.feed(SPEECH)
    both.forget()
    both.feed(SPEECH)
    assert both.finish().hypotheses[1].text == "left rail"


def test_the_limited_one_knows_what_can_be_written(
    both: VoskEar, library: fake_vosk.FakeVosk
) -> None:
    """A phrase with a word that the model does not know is left out; the word for unknown is in."""
    assert library.made[1].grammars == [["left rail", "hole", "go ahead", "[unk]"]]
    assert both.spelling.unknown == ("outrigger",)


def test_stand_by_waits_for_its_end_only(both: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """Other phrases are given at run time, once for as long as nothing changes, and taken back."""
    for _ in range(2):
        both.expect(Expected(only=("go ahead",)))
    both.expect(ANYTHING)
    assert library.made[1].grammars[1:] == [
        ["go ahead", "[unk]"],
        ["left rail", "hole", "go ahead", "[unk]"],
    ]


def test_nothing_but_unknown_words_is_expected(both: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """The library would end the process: the free one hears alone."""
    both.expect(Expected(only=("outrigger",)))
    library.script, library.limited = [["left rain"]], ["left rail"]
    both.feed(SPEECH)
    assert [h.text for h in both.finish().hypotheses] == ["left rain"]
    assert len(library.made[1].grammars) == 1


def test_likely_phrases_count_more(both: VoskEar, library: fake_vosk.FakeVosk) -> None:
    """The options of an open question, beside all others."""
    both.expect(Expected(likely=("hole",)))
    assert library.made[1].grammars[-1].count("hole") > 1
    assert "left rail" in library.made[1].grammars[-1]


def test_compounds_are_heard_in_parts_and_written_whole(library: fake_vosk.FakeVosk) -> None:
    """By the free one as well: it can write them no other way."""
    library.known = ("under", "body", "hole")
    ear = VoskEar(MODEL, ("underbody", "under", "hole"), library=library)
    library.script = [["under body hole"]]
    ear.feed(SPEECH)
    (heard,) = ear.finish().hypotheses
    assert heard.text == "underbody hole"
    assert heard.words[0] == Word("underbody", 1.0, 0.1, 0.6)


def test_model_of_another_language_is_an_ear_fault(library: fake_vosk.FakeVosk) -> None:
    """It would hear something, and none of it would be what was said."""
    phrases = [f"word{'x' * n}" for n in range(30)]
    with pytest.raises(EarFault, match="0 of the 30 words.*another language.*--grammar"):
        VoskEar(MODEL, phrases, library=library)


def test_result_with_confidences() -> None:
    """Without alternatives, Vosk gives one text whose words have a confidence."""
    result = """{"text": "left rail", "result": [
        {"word": "left", "conf": 0.9, "start": 1.1, "end": 1.3},
        {"word": "rail", "conf": 0.5, "start": 1.4, "end": 1.6}]}"""
    (found,) = hypotheses(result, began_s=1.0)
    assert found.words == (Word("left", 0.9, 0.1, 0.3), Word("rail", 0.5, 0.4, 0.6))


def test_model_that_does_not_load_is_an_ear_fault(library: object) -> None:
    """With the folder and the next step."""
    with pytest.raises(EarFault, match=r"/models/broken cannot be loaded.*voicelog model get"):
        VoskEar(Path("/models/broken"), library=library)


@pytest.mark.usefixtures("library")
def test_library_that_does_not_load_is_an_ear_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the other ear as the next step."""
    monkeypatch.setitem(sys.modules, "vosk", None)
    with pytest.raises(EarFault, match="built-in"):
        VoskEar(MODEL)
