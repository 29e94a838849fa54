"""Fitting the built-in ear's numbers: what was heard before is used for the same model only."""

from __future__ import annotations

import json
from pathlib import Path

import calibrate
import pytest
from yardstick.noises import CONDITIONS
from yardstick.speech_set import speech_set

from voicelog.domain.heard import Heard, Hypothesis, heard_to_json

SPOKEN = speech_set("tuning", conditions=CONDITIONS[:1], each=1)


def _kept(folder: Path, model: str) -> Path:
    heard = Heard((Hypothesis("left front rail"),), "built-in", model)
    file = folder / "kept.json"
    file.write_text(json.dumps({one.key: heard_to_json(heard) for one in SPOKEN}))
    return file


def test_what_was_kept_is_not_heard_again(tmp_path: Path) -> None:
    """In the order of the utterances."""
    found = calibrate._heard(SPOKEN, tmp_path, _kept(tmp_path, "this"), "this")
    assert [one for one, _ in found] == SPOKEN
    assert {heard.text for _, heard in found} == {"left front rail"}


def test_what_another_model_heard_is_refused(tmp_path: Path) -> None:
    """Else its curve would go into the package under this model's name."""
    with pytest.raises(SystemExit, match="another model"):
        calibrate._heard(SPOKEN, tmp_path, _kept(tmp_path, "other"), "this")


def test_texts_of_the_fit_are_new(tmp_path: Path) -> None:
    """The corrections were trained on those of the tuning part; none that is kept out comes in."""
    spoken = calibrate._spoken()
    kept_out = {one.text for one in speech_set("kept out", conditions=CONDITIONS[:1])}
    assert len({one.key for one in spoken}) == len(spoken) == 6 * calibrate.EACH * 4
    assert not {one.text for one in spoken} & ({one.text for one in SPOKEN} | kept_out)
    assert not any(one.voice.kept_out for one in spoken)
