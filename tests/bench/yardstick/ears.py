"""The ears that are measured, each as an inspection opens it, and plain ones beside them."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from own import settings_of, shipped

import voicelog
from voicelog.recognise.lookup import open_ear
from voicelog.recognise.port import Ear
from voicelog.runtime.opening import open_the_ear
from yardstick.sphinx import SphinxEar

RECOGNISE = Path(voicelog.__file__).parent / "recognise"
_BOTH = ("no_speech.py", "pieces.py")
_BUILT_IN = (
    *_BOTH, "beam.py", "bias.py", "confidence.py", "context.py", "fitted*", "leaning*", "moonshine_*.py",
)  # fmt: skip
_SECOND = (*_BOTH, "whisper_*.py")
_VOSK = ("pieces.py", "vosk_*.py")
_ONNX, _WHISPER = ("onnxruntime", "moonshine-voice"), ("faster-whisper", "ctranslate2")


@dataclass(frozen=True, slots=True)
class Kind:
    """An ear that can be measured.

    Args:
        open: makes it; takes the folder of a Vosk model, for the ear that needs one.
        modules: patterns of the modules it is made of, in ``voicelog/recognise``.
        packages: what it runs on.
        leans: it is given the vocabulary.
        plain: a recogniser as anybody could take it, which the trade is strange to; unless asked for by
            name it hears the kept-out part only, where it is compared.
        only: conditions that it hears unless asked for by name, all when empty, and then no long
            sound: the slowest ear would take as long as all others together.
    """

    open: Callable[[Path | None], Ear]
    modules: tuple[str, ...] = ()
    packages: tuple[str, ...] = ()
    leans: bool = True
    plain: bool = False
    only: tuple[str, ...] = ()


def _shipped(name: str) -> Callable[[Path | None], Ear]:
    """The ear as an inspection opens it."""
    return lambda model: open_the_ear(
        replace(settings_of(()), ear=name, model=model if name == "vosk" else None), shipped()
    )


def _plain(name: str) -> Callable[[Path | None], Ear]:
    """The same recogniser without a word of the trade."""
    return lambda model: open_ear(
        name, phrases=(), bias=0.0, model=model if name == "vosk" else None, adapted=False
    )


def _as_published(_: Path | None) -> Ear:
    """The built-in ear without its corrections, leaning to the vocabulary all the same."""
    return open_the_ear(replace(settings_of(()), ear="built-in", adapted=False), shipped())


EARS: Mapping[str, Kind] = {
    "built-in": Kind(_shipped("built-in"), (*_BUILT_IN, "adapted*", "adapted*/*"), _ONNX),
    "built-in without bias": Kind(_plain("built-in"), _BUILT_IN, _ONNX, leans=False, plain=True),
    "built-in as published": Kind(_as_published, _BUILT_IN, _ONNX),
    "second": Kind(_shipped("second"), _SECOND, _WHISPER),
    "second without hint": Kind(_plain("second"), _SECOND, _WHISPER, leans=False, plain=True),
    "vosk": Kind(_shipped("vosk"), _VOSK, ("vosk",)),
    "vosk without words": Kind(_plain("vosk"), _VOSK, ("vosk",), leans=False, plain=True),
    "pocketsphinx": Kind(
        lambda _: SphinxEar(), packages=("pocketsphinx",), leans=False, plain=True,
        only=("quiet", "10 dB", "0 dB"),
    ),
}  # fmt: skip
"""By name, as the tables have it."""


def available(model: Path | None = None) -> list[str]:
    """The ears that can be measured here.

    Args:
        model: folder of a Vosk model; without one its ear is left out.
    """
    absent = set() if model else {name for name in EARS if name.startswith("vosk")}
    return [name for name in EARS if name not in absent]


def made_of(name: str, model: Path | None = None) -> str:
    """A short name of all that its hearing hangs on: its code, its vocabulary, its libraries."""
    kind = EARS[name]
    files = [f for pattern in kind.modules for f in sorted(RECOGNISE.glob(pattern)) if f.is_file()]
    what = (
        name,
        [hashlib.sha256(file.read_bytes()).digest() for file in files],
        [(package, _version(package)) for package in kind.packages],
        _leaning() if kind.leans else (),
        model.name if model and name.startswith("vosk") else "",
    )
    return hashlib.sha256(repr(what).encode()).hexdigest()[:12]


@cache
def _leaning() -> object:
    """What an ear that leans is told."""
    words, settings = shipped().vocabulary, settings_of(())
    said = [(phrase.text, phrase.slot) for phrase in (*words.phrases, *words.numerals)]
    return said, settings.bias, settings.beam


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return ""
