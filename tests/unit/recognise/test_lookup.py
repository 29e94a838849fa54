"""Which ear is opened, and what ``voicelog doctor`` can tell about each."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.domain.choices import EARS
from voicelog.errors import EarFault, UsageFault
from voicelog.recognise import lookup
from voicelog.recognise.lookup import ears, open_ear, unknown_words
from voicelog.recognise.moonshine_engine import MoonshineEar
from voicelog.recognise.moonshine_model import ADAPTED_MODEL, MODEL
from voicelog.recognise.typed_engine import TypedEar


class Opened:
    """A Vosk ear that loads nothing."""

    def __init__(self, folder: Path, phrases: tuple[str, ...] = ()) -> None:
        self.folder, self.phrases = folder, phrases

    def unknown_words(self, words: dict[str, None]) -> tuple[str, ...]:
        """Every word but "left"."""
        return tuple(word for word in words if word != "left")


@pytest.fixture
def no_vosk_model(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine whose caches hold no model."""
    monkeypatch.setattr(lookup, "find_model", lambda model=None: model)


@pytest.fixture
def vosk_model(monkeypatch: pytest.MonkeyPatch) -> Path:
    """A machine whose cache holds an English model."""
    folder = Path("/cache/vosk-model-small-en-us-0.15")
    monkeypatch.setattr(lookup, "find_model", lambda model=None: model or folder)
    monkeypatch.setattr(lookup, "VoskEar", Opened)
    return folder


def _fail() -> Path:
    raise EarFault("The built-in ear's model is not installed", "Install it")


def test_auto_takes_vosk_where_it_has_a_model(vosk_model: Path) -> None:
    """The one in the cache, or the one named."""
    for model, expected in ((None, vosk_model), (Path("/mine"), Path("/mine"))):
        ear = open_ear("auto", phrases=(), model=model)
        assert isinstance(ear, Opened)
        assert ear.folder == expected


@pytest.mark.usefixtures("no_vosk_model")
def test_auto_takes_the_built_in_ear_otherwise() -> None:
    """The default of a fresh machine."""
    assert isinstance(open_ear("auto", phrases=("rust",)), MoonshineEar)


@pytest.mark.usefixtures("vosk_model")
def test_built_in_and_typed_are_taken_when_named() -> None:
    """Whatever models there are."""
    assert isinstance(open_ear("built-in", phrases=()), MoonshineEar)
    assert isinstance(open_ear("typed", phrases=()), TypedEar)


@pytest.mark.usefixtures("no_vosk_model")
def test_vosk_without_a_model_says_how_to_get_one() -> None:
    """It does not fall back behind the user's back."""
    with pytest.raises(EarFault, match="voicelog model get"):
        open_ear("vosk", phrases=())


@pytest.mark.usefixtures("no_vosk_model")
def test_no_ear_at_all_names_both_ways_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """The extra to install, or the model to get."""
    monkeypatch.setattr("voicelog.recognise.moonshine_model.model_folder", _fail)
    with pytest.raises(EarFault, match="Install it, or: voicelog model get"):
        open_ear("auto", phrases=())


def test_unknown_ear_is_a_usage_fault() -> None:
    """Naming the ones there are."""
    with pytest.raises(UsageFault, match=", ".join(EARS)):
        open_ear("elephant", phrases=())


@pytest.mark.usefixtures("no_vosk_model")
def test_doctor_tells_each_ear(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ready or not, with what to do about it; the second ear is an extra that may be absent."""
    vosk, built_in, second, *_, typed = ears()
    assert (vosk.name, vosk.ready, "model get" in vosk.hint) == ("vosk", False, True)
    assert (built_in.name, built_in.ready, built_in.hint) == ("built-in", True, "")
    assert (second.name, bool(second.hint)) == ("second", not second.ready)
    assert (typed.name, typed.ready) == ("typed", True)
    monkeypatch.setattr(lookup, "model_folder", _fail)
    assert (ears()[1].ready, ears()[1].hint) == (False, "Install it")


@pytest.mark.usefixtures("no_vosk_model")
def test_doctor_misses_the_runtime(monkeypatch: pytest.MonkeyPatch) -> None:
    """A model without what runs it is not ready."""
    real = lookup.importlib.util.find_spec
    monkeypatch.setattr(
        lookup.importlib.util,
        "find_spec",
        lambda name: None if name == "onnxruntime" else real(name),
    )
    assert "onnxruntime" in ears()[1].detail


@pytest.mark.usefixtures("vosk_model")
def test_doctor_names_the_vosk_model() -> None:
    """And where it lies."""
    assert ears()[0].detail == "vosk-model-small-en-us-0.15 in /cache"


@pytest.mark.usefixtures("vosk_model")
def test_unknown_words_depend_on_the_ear() -> None:
    """Vosk has a closed list; the built-in ear spells anything; each word is named once."""
    phrases = ("left outrigger", "outrigger sill")
    assert unknown_words(open_ear("vosk", phrases=()), phrases) == ("outrigger", "sill")
    assert unknown_words(open_ear("built-in", phrases=()), phrases) == ()


@pytest.mark.usefixtures("no_vosk_model")
def test_doctor_names_the_model_that_the_settings_ask_for(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """With corrections that are whole, or as it was published."""
    assert ears()[1].detail == ADAPTED_MODEL
    assert ears(adapted=False)[1].detail.startswith(f"{MODEL}, without")
    monkeypatch.setattr(lookup, "CORRECTIONS", tmp_path / "missing.npz")
    assert (ears()[1].ready, "adapted = false" in ears()[1].hint) == (False, True)
    assert ears(adapted=False)[1].ready
