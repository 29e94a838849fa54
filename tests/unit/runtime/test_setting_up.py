"""Asking by voice or keyboard before a log is opened."""

from __future__ import annotations

from collections.abc import Mapping
from queue import SimpleQueue
from typing import Any

import pytest
from live_bay import Ears, Script, Voice

from voicelog.capture.incoming import Ended, Gone
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.zone import Rails
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.answering import Answering
from voicelog.runtime.messages import Action, Message, StateChanged, Told
from voicelog.runtime.set_up import questions
from voicelog.runtime.setting_up import Setup, Stopped
from voicelog.runtime.sound_in import SoundIn


def asked(
    grammar: Grammar, steps: list[Any], *, hands_free: bool = True
) -> tuple[tuple[Settings, str], list[Message]]:
    """What comes of these answers to all questions but the last, which only some tests ask."""
    (settings, subject, _), messages = answered(grammar, steps, hands_free=hands_free, stood="pit")
    return (settings, subject), messages


def answered(
    grammar: Grammar, steps: list[Any], *, hands_free: bool = True, stood: str = ""
) -> tuple[tuple[Settings, str, Mapping[str, Any]], list[Message]]:
    """The same with how the vehicle stands."""
    requests: SimpleQueue[Any] = SimpleQueue()
    messages: list[Message] = []
    source, settings = Script(steps, requests), Settings()
    answering = Answering(Voice(), settings, grammar, messages.append)  # type: ignore[arg-type]
    ears: Any = Ears(source.now)
    sound = SoundIn(ears, answering, messages.append, source.now, hands_free=hands_free)
    setup = Setup(source, sound, TypedEar(), answering, requests, messages.append)
    told = {"plate": "AB1", **({"stood": stood} if stood else {})}
    return setup.ask(tuple(questions(settings, "", stood=stood)), settings, "", told), messages


def test_answers_settle_what_no_flag_has_said(shipped_grammar: Grammar) -> None:
    """Spoken or typed, whatever stands around them; each question is told and shown."""
    steps = ["the grey pickup", ">left", "they are boxed"]
    (settings, subject), messages = asked(shipped_grammar, steps)
    assert subject == "the grey pickup"
    assert settings.speech.driver_side == "left"
    assert settings.rails is Rails.BOXED
    told = [m.text for m in messages if isinstance(m, Told)]
    assert told[0] == "What is being inspected?"
    assert all(m.question for m in messages if isinstance(m, Told))
    assert [str(m.state) for m in messages if isinstance(m, StateChanged)] == ["set-up"] * 3


@pytest.mark.parametrize(
    ("said", "stood"),
    [("it's up on the two post", "lift"), (">axle stands", "stands"), ("on the ground", "floor")],
)
def test_how_it_stands_is_asked_last(shipped_grammar: Grammar, said: str, stood: str) -> None:
    """By any usual name; what flags told of the vehicle stays."""
    (_, _, vehicle), messages = answered(shipped_grammar, ["pickup", "left", "open", said])
    assert vehicle == {"plate": "AB1", "stood": stood}
    told = [m.text for m in messages if isinstance(m, Told)]
    assert told[-1] == "On a lift, stands, a ramp, a pit or the floor?"


def test_what_is_not_understood_is_asked_again(shipped_grammar: Grammar) -> None:
    """Three times; then it stays open, and nobody is kept from their work."""
    steps = ["pickup", "which?", "left or right", "the other one", "open"]
    (settings, _), messages = asked(shipped_grammar, steps)
    assert settings.speech.driver_side is None
    assert settings.rails is Rails.OPEN
    told = [m.text for m in messages if isinstance(m, Told)]
    assert len(told) == 5
    assert told[1:3] == [
        "Driver's side: left or right?", "Not understood. Driver's side: left or right? Or skip.",
    ]  # fmt: skip


def test_a_question_can_be_left_open(shipped_grammar: Grammar) -> None:
    """By word or by key."""
    (settings, subject), _ = asked(shipped_grammar, ["skip", Action.NEGATIVE, "negative"])
    assert (settings, subject) == (Settings(), "")


def test_stopping_there_ends_it(shipped_grammar: Grammar) -> None:
    """Nothing was opened that would have to be closed."""
    with pytest.raises(Stopped):
        asked(shipped_grammar, ["pickup", None])


def test_without_sound_the_rest_stays_open(shipped_grammar: Grammar) -> None:
    """The recordings that stood in for a microphone are over."""
    (settings, subject), _ = asked(shipped_grammar, ["pickup", Ended(), Ended(), Ended()])
    assert (subject, settings.speech.driver_side) == ("pickup", None)


def test_a_microphone_lost_meanwhile_is_told(shipped_grammar: Grammar) -> None:
    """A headset that is muted from the start is noticed just then."""
    _, messages = asked(
        shipped_grammar, [Gone("headset", "is it muted?"), "pickup", "left", "open"]
    )
    assert any("headset" in m.text for m in messages if isinstance(m, Told))


def test_with_the_pedal_up_nothing_overheard_is_an_answer(shipped_grammar: Grammar) -> None:
    """Talk in the bay is no subject."""
    steps = [
        "my wife called", Action.PEDAL_DOWN, "the grey pickup", Action.PEDAL_UP, "nonsense",
        ">left", ">open",
    ]  # fmt: skip
    (_, subject), _ = asked(shipped_grammar, steps, hands_free=False)
    assert subject == "the grey pickup"
