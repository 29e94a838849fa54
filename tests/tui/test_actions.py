"""The one list behind keys, palette and help."""

from __future__ import annotations

from typing import Any

from textual.app import App

from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act
from voicelog.domain.signal import MEANINGS, Signal
from voicelog.interpret.reader import Reader
from voicelog.runtime.messages import Action
from voicelog.tui.actions import DEEDS, PEDAL, bindings, key_name, with_words
from voicelog.tui.app import LiveApp


def test_everything_the_engine_can_be_asked_for_has_a_key() -> None:
    """The pedal has its own; its two actions are one key."""
    asked = {deed.action for deed in DEEDS if deed.action is not None}
    assert asked == set(Action) - {Action.PEDAL_DOWN, Action.PEDAL_UP}
    assert "pedal" in {deed.id for deed in DEEDS}


def test_no_key_does_two_things() -> None:
    """Nor has any name two deeds."""
    keys = [key for deed in DEEDS for key in deed.keys.split(",")]
    assert len(set(keys)) == len(keys)
    assert len({deed.id for deed in DEEDS}) == len(DEEDS)


def test_the_words_do_what_the_key_does(stage: Any) -> None:
    """What the help screen says can be said is understood by the shipped grammar."""
    grammar = stage.grammar
    reader = Reader(grammar.vocabulary, grammar.zone_map)
    for deed in DEEDS:
        if deed.spoken:
            acts = [s.act for s in reader.read(Heard.typed(deed.spoken)).statements]
            assert acts == [Act(str(deed.action))]


def test_another_language_has_its_own_words() -> None:
    """The help screen tells what this grammar understands."""
    told = {deed.id: deed.spoken for deed in with_words({Action.AFFIRM: "bestätige"})}
    assert told["affirm"] == "bestätige"
    assert told["negative"] == "negative"


def test_every_binding_has_an_id() -> None:
    """So that keys can be changed, the pedal's among them."""
    made = list(bindings())
    assert all(binding.id for binding in made)
    assert len({binding.id for binding in made}) == len(made)
    assert {deed.id for deed in DEEDS} <= {binding.id for binding in made}


def test_leaving_works_even_while_words_are_typed() -> None:
    """Ctrl+Q and Ctrl+C come before the line that is typed on; so does a pedal that types nothing."""
    first = {key for b in bindings() if b.priority for key in b.key.split(",")}
    assert first == {"ctrl+q", "ctrl+c", PEDAL}


def test_no_key_of_the_app_is_left_to_chance() -> None:
    """Of Textual's own bindings only the palette's is there; none quits without asking."""
    assert LiveApp.BINDINGS != App.BINDINGS
    own = {key for d in DEEDS for key in d.keys.split(",") if d.id != PEDAL} | {PEDAL}
    assert {key for b in LiveApp.BINDINGS for key in b.key.split(",")} == own


def test_every_sound_is_explained() -> None:
    """The help screen names every tone."""
    assert set(MEANINGS) == set(Signal)


def test_keys_are_named_as_people_name_them() -> None:
    """Not as a terminal sends them."""
    told = {key: key_name(key) for key in ("question_mark", "f1", "ctrl+q", "a", "space")}
    assert list(told.values()) == ["?", "F1", "Ctrl+Q", "a", "Space"]
