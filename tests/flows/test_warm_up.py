"""A warm-up on real speech: the built-in ear hears, is tuned, and nothing stays behind."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from voicelog.capture.rehearse import rehearsal
from voicelog.config.data import samples_dir
from voicelog.config.settings import load_settings
from voicelog.runtime.warm_up import Learned, WarmUp
from voicelog.runtime.warm_up_listening import End, Wish
from voicelog.runtime.warm_up_prompts import Prompt
from voicelog.runtime.warm_up_takes import Take
from voicelog.runtime.warm_up_tuning import BIASES

SENTENCES = 12
"""The fewest that are tuned by."""
ENOUGH = 10
"""Of a dozen quiet ones; the small ear may mishear a word or two."""


class Quiet:
    """Watches, and wants nothing."""

    def __init__(self) -> None:
        self.shown: list[str] = []

    def show(self, number: int, of: int, prompt: Prompt) -> None:
        """Keeps the sentence."""
        self.shown.append(prompt.text)

    def took(self, take: Take) -> None:
        """Nothing to do."""

    def note(self, text: str) -> None:
        """Every sentence is there, so nothing is worth a note."""
        raise AssertionError(text)

    def tuning(self, done: int, of: int) -> None:
        """Nothing to do."""

    def wish(self) -> Wish | None:
        """None."""
        return None


def _recorded() -> Sequence[dict[str, Any]]:
    """Recordings without noise that make an entry with a place and a condition."""
    manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
    telling = (one for one in manifest["utterances"] if one["want"] and not one["noise"])
    whole = (one for one in telling if {"zone", "condition"} <= one["want"][0].keys())
    return list(whole)[:SENTENCES]


@pytest.fixture(scope="module")
def warmed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Learned, Quiet, Path]:
    """A warm-up on them, in a folder in which anything it leaves would lie."""
    folder = tmp_path_factory.mktemp("warm-up")
    no_settings = folder / "settings.toml"
    no_settings.touch()
    settings = load_settings({"ear": "built-in", "into": folder}, user_file=no_settings, environ={})
    recorded, watch = _recorded(), Quiet()
    files = [samples_dir() / one["file"] for one in recorded]
    source, _ = rehearsal(files, pause_s=1.5, speed=math.inf)
    texts = [one["text"] for one in recorded]
    with closing(WarmUp(settings, texts=texts)) as warm, closing(source):
        return warm.run(source, watch), watch, folder


def test_every_recording_meets_its_sentence(warmed: tuple[Learned, Quiet, Path]) -> None:
    """They are asked for one by one, and most are understood in full."""
    learned, watch, _ = warmed
    assert watch.shown == [one["text"] for one in _recorded()]
    assert len(learned.takes) == SENTENCES
    assert learned.end is End.DONE
    assert sum(take.right for take in learned.takes) >= ENOUGH, learned.takes


def test_the_same_sound_is_decoded_with_every_bias(warmed: tuple[Learned, Quiet, Path]) -> None:
    """Quiet speech of clear voices leaves nothing to gain, so the bias stays."""
    tuning = warmed[0].tuning
    assert tuning is not None
    assert tuple(trial.bias for trial in tuning.trials) == BIASES
    assert all(len(trial.takes) == SENTENCES for trial in tuning.trials)
    assert all(trial.word_error_rate < 0.2 for trial in tuning.trials)
    assert not tuning.moved


def test_levels_are_those_of_the_recordings(warmed: tuple[Learned, Quiet, Path]) -> None:
    """Well above the quiet room between them."""
    levels = warmed[0].levels
    assert levels is not None
    assert levels.noise_dbfs is not None
    assert levels.speech_dbfs > -35 > levels.noise_dbfs


def test_no_sound_stays_behind(warmed: tuple[Learned, Quiet, Path]) -> None:
    """Nothing was written, neither a clip nor a log."""
    assert [path.name for path in warmed[2].iterdir()] == ["settings.toml"]
