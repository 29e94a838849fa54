"""Which ear to use, and which ears this machine has."""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from voicelog.domain.choices import EARS
from voicelog.errors import EarFault, UsageFault
from voicelog.recognise.adapted import FILE as CORRECTIONS
from voicelog.recognise.adapted import checked
from voicelog.recognise.bias import NO_KINDS
from voicelog.recognise.moonshine_engine import MoonshineEar
from voicelog.recognise.moonshine_model import (
    ADAPTED_MODEL,
    INSTALL,
    MODEL,
    check_files,
    model_folder,
)
from voicelog.recognise.port import Ear
from voicelog.recognise.typed_engine import TypedEar
from voicelog.recognise.vosk_engine import VoskEar, vosk_library
from voicelog.recognise.vosk_models import find_model
from voicelog.recognise.vosk_words import ANY_SPELLING, Respelt
from voicelog.recognise.whisper_engine import WhisperEar
from voicelog.recognise.whisper_model import FILES as SECOND_FILES
from voicelog.recognise.whisper_model import LIBRARY, installed
from voicelog.recognise.whisper_model import MODEL as SECOND_MODEL
from voicelog.tongue import to_word, worded

ONLY_BY_NAME = ("second", "typed")
"""Ears that ``auto`` never takes."""

GET_MODEL = to_word("Fetch the small English model once: voicelog model get")


@dataclass(frozen=True, slots=True)
class EarStatus:
    """Whether an ear can be used here.

    Args:
        name: as given to :func:`open_ear`.
        ready: it can.
        detail: the model it would use, or why it cannot.
        hint: what to do about it; empty when it is ready.
    """

    name: str
    ready: bool
    detail: str
    hint: str = ""


def open_ear(
    name: str,
    *,
    phrases: Sequence[str],
    model: Path | None = None,
    bias: float = 0.4,
    beam: int = 4,
    adapted: bool = True,
    classes: Mapping[str, str] = NO_KINDS,
) -> Ear:
    """Open an ear with its model loaded.

    Args:
        name: ``auto`` (Vosk when it has an English model, else the built-in one), ``built-in``,
            ``vosk``, ``second`` (slower, better in noise) or ``typed``.
        phrases: the vocabulary, for ears that can lean towards it.
        model: a Vosk model's folder.
        bias: how strongly to lean, in nats a letter; 0 not at all.
        beam: texts carried at once while decoding.
        adapted: the built-in ear with its corrections for shop noise, else as its model was published.
        classes: the word class of each phrase, for ears that lean by what came before.

    Raises:
        UsageFault: when there is no ear of that name.
        EarFault: when the ear cannot be used here.
    """
    if name not in EARS:
        raise UsageFault(
            worded("There is no ear {name}", name=repr(name)),
            worded("Choose one of {names}", names=", ".join(EARS)),
        )
    if name == "typed":
        return TypedEar()
    if name == "second":
        return WhisperEar(phrases)
    folder = find_model(model) if name != "built-in" else None
    if folder is not None:
        return VoskEar(folder, phrases)
    if name == "vosk":
        raise EarFault(worded("No English Vosk model was found"), worded(GET_MODEL))
    try:
        return MoonshineEar(phrases, bias=bias, beam=beam, adapted=adapted, classes=classes)
    except EarFault as fault:
        if name == "built-in":
            raise
        or_vosk = worded("{hint}, or: voicelog model get", hint=fault.hint)
        raise EarFault(fault.message, or_vosk) from fault


def ears(*, adapted: bool = True) -> tuple[EarStatus, ...]:
    """Every ear and whether it can be used, those that ``auto`` tries first and in its order.

    Args:
        adapted: the built-in ear would be opened with its corrections.
    """
    return (
        _status("vosk", _vosk_detail),
        _status("built-in", partial(_built_in_detail, adapted)),
        _status("second", _second_detail),
        EarStatus("typed", True, "text from the keyboard or a file"),
    )


def has_second_ear() -> bool:
    """True where the extra of the second ear is installed; whether it is whole is seen on opening."""
    return all(map(importlib.util.find_spec, (LIBRARY, SECOND_FILES.package)))


def unknown_words(ear: Ear, phrases: Iterable[str]) -> tuple[str, ...]:
    """Words of the phrases that the ear can never write, each once, in order.

    The built-in and the second ear spell words in pieces and can write all of them.
    """
    words = dict.fromkeys(word for phrase in phrases for word in phrase.split())
    return ear.unknown_words(words) if isinstance(ear, VoskEar) else ()


def spelling_for(ear: Ear) -> Respelt:
    """The ear's vocabulary in words that it can write, and what it cannot."""
    return ear.spelling if isinstance(ear, VoskEar) else ANY_SPELLING


def _status(name: str, detail: Callable[[], str]) -> EarStatus:
    try:
        return EarStatus(name, True, detail())
    except EarFault as fault:
        return EarStatus(name, False, fault.message, fault.hint)


def _vosk_detail() -> str:
    folder = find_model()
    if folder is None:
        raise EarFault(worded("No English Vosk model was found"), worded(GET_MODEL))
    vosk_library()
    return f"{folder.name} in {folder.parent}"


def _built_in_detail(adapted: bool) -> str:
    check_files(model_folder())
    if adapted:
        checked(CORRECTIONS)
    if importlib.util.find_spec("onnxruntime") is None:
        raise EarFault(
            worded("The built-in ear needs onnxruntime, which is not installed"), worded(INSTALL)
        )
    return ADAPTED_MODEL if adapted else f"{MODEL}, without its corrections (adapted is off)"


def _second_detail() -> str:
    installed()
    return SECOND_MODEL
