"""The second ear against a stand-in that honours the library's calls."""

from __future__ import annotations

from pathlib import Path

import fake_whisper
import pytest

from voicelog.domain.heard import Word
from voicelog.recognise.whisper_engine import HINT_TOKENS, WhisperEar, hint
from voicelog.recognise.whisper_model import WhisperModel

SPEECH = b"\x00\x10\x00\xf0" * 8_000
"""One second."""


@pytest.fixture
def library() -> fake_whisper.FakeWhisper:
    """The stand-in."""
    return fake_whisper.FakeWhisper()


@pytest.fixture
def ear(library: fake_whisper.FakeWhisper) -> WhisperEar:
    """An ear over it, with two phrases."""
    return WhisperEar(
        ["left front rail", "front sill"], model=WhisperModel(Path("/model"), library=library)
    )


def test_words_have_times_and_confidences(
    ear: WhisperEar, library: fake_whisper.FakeWhisper
) -> None:
    """A comma belongs to the word before it and takes nothing from its confidence."""
    library.script = [("Left rail, hole", -0.25)]
    ear.feed(SPEECH)
    heard = ear.finish()
    (best,) = heard.hypotheses
    assert (heard.engine, heard.model, best.text) == (
        "second", "whisper-tiny-en-0.1.0", "Left rail, hole",
    )  # fmt: skip
    assert best.words == (
        Word("Left", 0.9, 0.1, 0.5),
        Word("rail,", 0.8, 0.6, 1.0),
        Word("hole", 0.6, 1.6, 2.0),
    )
    assert best.score == pytest.approx(-0.25 * 4)


def test_texts_that_differ_in_capitals_only_are_one(
    ear: WhisperEar, library: fake_whisper.FakeWhisper
) -> None:
    """The others follow, best first."""
    library.script = [("Left rail.", -0.2), ("left rail", -0.3), ("left rain", -0.4)]
    ear.feed(SPEECH)
    assert [h.text for h in ear.finish().hypotheses] == ["Left rail.", "left rain"]


def test_parts_of_a_compound_are_one_word(
    ear: WhisperEar, library: fake_whisper.FakeWhisper
) -> None:
    """As sure as the less sure of them, and as long as both."""
    library.script = [("cross-member", -0.2)]
    ear.feed(SPEECH)
    assert ear.finish().hypotheses[0].words == (Word("cross-member", 0.7, 0.1, 1.5),)


@pytest.mark.parametrize(
    ("text", "logprob", "no_speech"),
    [
        ("you", -1.9, 0.5),
        ("you", -1.2, 0.7),
        ("right " * 40, -0.1, 0.0),
        ("", -0.1, 0.0),
    ],
)
def test_nothing_is_made_of_noise(
    ear: WhisperEar,
    library: fake_whisper.FakeWhisper,
    text: str,
    logprob: float,
    no_speech: float,
) -> None:
    """An unlikely text, a likely silence, a text that runs in circles, and none."""
    library.script, library.no_speech = [(text, logprob)], no_speech
    ear.feed(SPEECH)
    assert ear.finish().hypotheses == ()


def test_speech_that_may_be_none_is_kept_while_its_text_is_likely(
    ear: WhisperEar, library: fake_whisper.FakeWhisper
) -> None:
    """The model's own doubt alone throws nothing away."""
    library.script, library.no_speech = [("hole", -0.4)], 0.9
    ear.feed(SPEECH)
    assert ear.finish().text == "hole"


def test_silence_is_not_even_asked_about(
    ear: WhisperEar, library: fake_whisper.FakeWhisper
) -> None:
    """Nor is no sound at all."""
    library.script = [("you", -0.1)]
    assert ear.finish().hypotheses == ()
    ear.feed(bytes(32_000))
    assert ear.finish().hypotheses == ()
    assert library.asked == {}


def test_each_utterance_begins_anew(ear: WhisperEar, library: fake_whisper.FakeWhisper) -> None:
    """What was forgotten, or finished, is not in the next one."""
    library.script = [("hole", -0.1)]
    ear.feed(SPEECH)
    ear.forget()
    assert ear.finish().hypotheses == ()
    ear.feed(SPEECH)
    assert ear.partial() == ""
    assert ear.finish().text == "hole"
    assert ear.finish().hypotheses == ()


def test_length_of_a_text_is_limited_by_the_sound(
    ear: WhisperEar, library: fake_whisper.FakeWhisper
) -> None:
    """Two seconds: fifteen tokens at most, behind those of the hint."""
    library.script = [("hole", -0.1)]
    ear.feed(SPEECH * 2)
    ear.finish()
    assert library.asked["max_length"] == library.asked["prompt"] + 15


def test_commonest_words_are_the_hint(ear: WhisperEar, library: fake_whisper.FakeWhisper) -> None:
    """All of this vocabulary, what both phrases have first; short words are left to the model."""
    library.script = [("hole", -0.1)]
    ear.feed(SPEECH)
    ear.finish()
    assert library.asked["hotwords"] == "front left rail sill"
    assert hint(["at the rail", "the rail end"], lambda _word: 1) == "rail"


def test_hint_ends_where_the_model_takes_no_more() -> None:
    """Before the word that would go over the limit."""
    words = [f"word{n:03}" for n in range(HINT_TOKENS)]
    assert hint(words, lambda _word: 3).split() == words[: HINT_TOKENS // 3]


def test_without_a_vocabulary_there_is_no_hint(library: fake_whisper.FakeWhisper) -> None:
    """None, which the library takes for no hint, not an empty one."""
    ear = WhisperEar(model=WhisperModel(Path("/model"), library=library))
    library.script = [("hole", -0.1)]
    ear.feed(SPEECH)
    assert ear.finish().text == "hole"
    assert library.asked["hotwords"] is None


def test_closed_ear_hears_nothing(ear: WhisperEar) -> None:
    """Its model is let go."""
    ear.close()
    ear.feed(SPEECH)
    assert ear.finish().hypotheses == ()


def test_model_is_loaded_by_path_on_the_processor(
    ear: WhisperEar, library: fake_whisper.FakeWhisper
) -> None:
    """Small numbers, two threads, and nothing fetched."""
    assert library.options == {
        "path": str(Path("/model")), "device": "cpu", "compute_type": "int8", "cpu_threads": 2,
        "local_files_only": True,
    }  # fmt: skip
