"""One loaded model for all tests of the built-in ear, and sound for it."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile

from voicelog.recognise.moonshine_engine import MoonshineEar
from voicelog.recognise.moonshine_model import MoonshineModel, model_folder

sys.path.insert(0, str(Path(__file__).parent))  # the stand-ins lie beside the tests

CLIPS = Path(__file__).parent / "clips"

PHRASES = (
    "brake line",
    "fuel line",
    "surface rust",
    "along the axle",
    "bulkhead",
    "hole",
    "size of a dime",
    "passenger side",
    "sill",
    "blistering paint",
    "left",
    "right",
    "front rail",
    "rear rail",
    "cross member",
    "spring hanger",
    "crack",
    "pitting",
    "scale",
    "rotten",
)
"""A small vocabulary of the trade, enough for the clips."""


@pytest.fixture(scope="session")
def model() -> MoonshineModel:
    """The installed model."""
    return MoonshineModel()


@pytest.fixture(scope="session")
def biased(model: MoonshineModel) -> MoonshineEar:
    """The ear as it is shipped: beam 4, bias 0.4."""
    return MoonshineEar(PHRASES, model=model)


@pytest.fixture(scope="session")
def plain(model: MoonshineModel) -> MoonshineEar:
    """The ear without bias or beam: plain greedy decoding."""
    return MoonshineEar(PHRASES, bias=0.0, beam=1, model=model)


@pytest.fixture(scope="session")
def clip() -> Callable[[str], bytes]:
    """A clip of the folder as PCM."""

    def read(name: str) -> bytes:
        samples, _ = soundfile.read(CLIPS / f"{name}.flac", dtype="int16")
        return bytes(np.asarray(samples, "<i2").tobytes())

    return read


@pytest.fixture(scope="session")
def beckett() -> bytes:
    """Ten seconds of a person reading, 16 kHz, from the wheel moonshine-voice 0.0.49."""
    samples, _ = soundfile.read(model_folder().parent / "beckett.wav", dtype="int16")
    return bytes(np.asarray(samples, "<i2").tobytes())
