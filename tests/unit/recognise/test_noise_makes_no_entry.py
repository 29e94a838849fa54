"""What a shop sounds like makes no finding, through the real endpointer and straight into the ear."""

from __future__ import annotations

import importlib.util
from functools import cache
from types import ModuleType

import numpy as np
import pytest

from voicelog.capture.endpoint import Endpointer
from voicelog.config.data import samples_dir
from voicelog.config.grammar import load_grammar
from voicelog.domain.reading import Act
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.interpret.reader import Reader
from voicelog.recognise.moonshine_engine import MoonshineEar
from voicelog.recognise.moonshine_model import MoonshineModel
from voicelog.recognise.port import hear_clip

KINDS = ("compressor", "impacts", "air-tool", "shop", "hum")
LEVELS_DBFS = (-45, -18)
LONG_S = 6


@cache
def _studio() -> ModuleType:
    """The script that makes the bundled recordings: its noises are made from a seed."""
    spec = importlib.util.spec_from_file_location("make_noise", samples_dir() / "make.py")
    assert spec is not None
    assert spec.loader is not None
    make = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(make)
    return make


def _noise(kind: str, dbfs: float) -> bytes:
    count, rng = LONG_S * SAMPLE_RATE, np.random.default_rng(11)
    if kind == "hum":
        at = 2 * np.pi * np.arange(count) / SAMPLE_RATE
        sound = np.sin(50 * at) + np.sin(100 * at) + 0.3 * np.sin(150 * at)
    else:
        sound = _studio().NOISES[kind](count, rng)
    sound = sound / np.sqrt(np.mean(np.square(sound))) * 10 ** (dbfs / 20)
    return bytes((sound.clip(-1, 1) * 32767).astype("<i2").tobytes())


@pytest.fixture(scope="module")
def whole_ear(model: MoonshineModel) -> MoonshineEar:
    """The ear with the shipped vocabulary."""
    vocabulary = load_grammar().vocabulary
    return MoonshineEar(vocabulary.telling(), classes=vocabulary.classes(), model=model)


@pytest.mark.parametrize("dbfs", LEVELS_DBFS)
@pytest.mark.parametrize("kind", KINDS)
def test_noise_is_no_utterance(kind: str, dbfs: int) -> None:
    """Nothing of it reaches an ear."""
    endpointer = Endpointer()
    assert [*endpointer.feed(_noise(kind, dbfs)), *endpointer.finish()] == []


@pytest.mark.parametrize("kind", KINDS)
def test_noise_makes_no_finding(whole_ear: MoonshineEar, kind: str) -> None:
    """Even if it did: what the ear makes of it says nothing of a place and steers nothing."""
    grammar = load_grammar()
    heard = hear_clip(whole_ear, Clip(_noise(kind, -18.0)[: 6 * SAMPLE_RATE], 0.0, 3.0))
    said = Reader(grammar.vocabulary, grammar.zone_map).read(heard).statements
    assert [one.act for one in said] == [Act.REMARK]
