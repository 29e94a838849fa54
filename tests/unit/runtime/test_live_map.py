"""A live inspection of a vehicle whose kind is only said when it begins."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from queue import Queue, SimpleQueue
from typing import Any

import pytest
from live_bay import Script, Voice

from voicelog.config.settings import Settings
from voicelog.domain.reading import Speech
from voicelog.domain.zone import Rails
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime import live
from voicelog.runtime.launching import Wishes, launch
from voicelog.runtime.live import LiveEngine, Order
from voicelog.runtime.messages import Closed, Message, Opened, State, StateChanged
from voicelog.runtime.set_up import questions

MAPS = ("backbone", "ladder-frame", "unibody")


@pytest.fixture
def phrases(monkeypatch: pytest.MonkeyPatch) -> list[set[str]]:
    """What each ear that was opened leans towards."""
    leaning: list[set[str]] = []

    def opened(_settings: Settings, grammar: Any, instead: Sequence[str] = ()) -> TypedEar:
        leaning.append(set(instead or grammar.vocabulary.telling()))
        return TypedEar()

    monkeypatch.setattr(live, "open_the_ear", opened)
    return leaning


def inspected(folder: Path, *answers: str, **given: Any) -> tuple[Opened, list[str]]:
    """The inspection as it opened, and what was asked before, with these typed answers."""
    settings = Settings(into=folder, ear="typed", voice="none", **given)
    asked = questions(settings, "van 3", MAPS, map_given=settings.map != Settings.map, stood="lift")
    engine = LiveEngine(
        Order(settings, subject="van 3", questions=tuple(asked)),
        source=lambda *_: Script([], SimpleQueue()),
        announcer=lambda _: _Announcer(),  # type: ignore[arg-type,return-value]
    )
    messages: Queue[Message] = Queue()
    for answer in answers:
        engine.type(answer)
    engine.start(messages.put)
    seen: list[Message] = []
    while not (seen and isinstance(seen[-1], Closed)):
        seen.append(messages.get(timeout=30))
        if isinstance(seen[-1], Opened):
            engine.stop()
    assert engine.join(10)
    told = [m.detail for m in seen if isinstance(m, StateChanged) and m.state is State.SET_UP]
    (opened,) = (message for message in seen if isinstance(message, Opened))
    return opened, told


class _Announcer(Voice):
    """A voice that can be closed."""

    def close(self) -> None:
        """Nothing to let go."""


def test_the_map_that_was_said_is_in_force(tmp_path: Path, phrases: list[set[str]]) -> None:
    """Its places, and an ear that listens for their names; the answers had one of their own. Rails
    are no question then.
    """
    opened, asked = inspected(tmp_path, "it's a unibody", "left")
    assert opened.zone_map.id == "unibody"
    assert [text.split()[0] for text in asked] == ["Which", "Driver's"]
    _, answers, names = phrases
    assert {"unibody", "it's a unibody", "body on frame", "left", "skip"} <= answers
    assert not {"front rail", "strut tower"} & answers
    assert {"strut tower", "rear subframe"} <= names


def test_its_places_are_spoken_of_by_its_own_names(
    tmp_path: Path, phrases: list[set[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is read back is called as on the map that was chosen, not as on the one asked with."""
    maps: list[str] = []
    spoken_of = live.Answering.speak_of

    def speak_of(self: live.Answering, grammar: Any) -> None:
        maps.append(grammar.zone_map.id)
        spoken_of(self, grammar)

    monkeypatch.setattr(live.Answering, "speak_of", speak_of)
    inspected(tmp_path, "it's a unibody", "left")
    assert maps == ["ladder-frame", "unibody"]


def test_a_ladder_frame_is_asked_about_its_rails(tmp_path: Path, phrases: list[set[str]]) -> None:
    """And its ear, which was there before, goes on afterwards."""
    opened, asked = inspected(tmp_path, "body on frame", "left", "boxed")
    assert (opened.zone_map.id, opened.rails) == ("ladder-frame", Rails.BOXED)
    assert [text.split()[0] for text in asked] == ["Which", "Driver's", "How"]
    assert "front rail" in phrases[0]
    assert len(phrases) == 2


def test_a_map_that_was_given_is_no_question(tmp_path: Path, phrases: list[set[str]]) -> None:
    """Nor are rails that it has not."""
    opened, asked = inspected(tmp_path, "left", map="backbone")
    assert opened.zone_map.id == "backbone"
    assert [text.split()[0] for text in asked] == ["Driver's"]
    assert "backbone tube" in phrases[0]
    assert len(phrases) == 2


def test_where_nothing_is_asked_one_ear_does(tmp_path: Path, phrases: list[set[str]]) -> None:
    """With --no-ask, or flags for everything."""
    flags = {"map": "backbone", "speech": Speech(driver_side="left"), "rails": Rails.BOXED}
    _, asked = inspected(tmp_path, **flags)
    assert (asked, len(phrases)) == ([], 1)


@pytest.mark.parametrize(("chosen", "asked"), [(False, True), (True, False)])
def test_a_map_from_the_settings_is_no_question_either(
    chosen: bool, asked: bool, tmp_path: Path
) -> None:
    """Whoever inspects only pickups writes the ladder frame down once."""
    engine = launch(
        Settings(into=tmp_path, map_chosen=chosen), Wishes("x", vehicle={"stood": "pit"})
    )
    assert ("map" in [q.setting for q in engine._order.questions]) is asked
