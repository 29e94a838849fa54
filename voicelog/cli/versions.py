"""``voicelog --version``: what would hear here, under the names that every log gives it.

Nothing is loaded and no file of a model is checked, so that it answers at once; ``voicelog doctor``
looks closer.
"""

from __future__ import annotations

import platform
from collections.abc import Iterator
from importlib.metadata import PackageNotFoundError, version

from voicelog import __version__
from voicelog.export.version import CONTRACT
from voicelog.recognise.models import ModelStatus, list_models
from voicelog.recognise.moonshine_model import ADAPTED_MODEL, MODEL
from voicelog.tongue import worded

RUN_BY = {"built-in": "onnxruntime", "vosk": "vosk", "second": "faster-whisper"}
"""The package that runs each ear's model."""

SPOKEN_BY = "hibari-tts"
"""The package of the built-in voice."""


def version_lines() -> Iterator[str]:
    """This program, what it stands on, the contract of its documents, every ear with its models."""
    yield f"voicelog {__version__}"
    yield worded("documents: contract {contract}", contract=CONTRACT)
    yield f"Python {platform.python_version()}, {platform.system()} {platform.machine()}"
    models = list_models()
    for ear, package in RUN_BY.items():
        yield worded(
            "ear {ear}: {models} ({of})",
            ear=ear,
            models=_models(model for model in models if model.ear == ear),
            of=_of(package),
        )
    yield worded("voice built-in: {of}", of=_of(SPOKEN_BY))


def _models(models: Iterator[ModelStatus]) -> str:
    """The names of those that are here, the built-in one's as it hears unless a setting says no."""
    names = (model.name for model in models if model.folder is not None)
    return ", ".join(ADAPTED_MODEL if name == MODEL else name for name in names) or worded(
        "no model"
    )


def _of(package: str) -> str:
    """Its name and version, by its metadata alone."""
    try:
        return f"{package} {version(package)}"
    except PackageNotFoundError:
        return worded("{package} is not installed", package=package)
