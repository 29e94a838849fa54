"""What an ear heard is kept, for as long as the ear is the same."""

from __future__ import annotations

import json
from pathlib import Path

from yardstick.ears import EARS, available, made_of
from yardstick.listening import Listening, fixed_subset

from voicelog.domain.heard import Heard, heard_to_json

HEARD = Heard.typed("sill, hole")


def _kept(folder: Path, name: str) -> None:
    title = name.replace(" ", "-")
    file = folder / f"{title}-{made_of(name)}.jsonl"
    file.write_text(json.dumps({"clip": "k", "heard": heard_to_json(HEARD)}) + "\n", "utf-8")


def test_what_was_heard_before_is_not_heard_again(tmp_path: Path) -> None:
    """No process is started and the clip itself may be gone; the step is counted all the same."""
    _kept(tmp_path, "built-in")
    steps: list[int] = []
    listening = Listening(tmp_path)
    heard = listening.hear("built-in", {"k": tmp_path / "gone.flac"}, lambda: steps.append(1))
    assert heard == {"k": HEARD}
    assert steps == [1]


def test_one_ear_never_answers_for_another(tmp_path: Path) -> None:
    """Nor for itself where it is to hear anew."""
    _kept(tmp_path, "built-in")
    assert Listening(tmp_path).kept("built-in without bias") == {}
    assert Listening(tmp_path, fresh=True).kept("built-in") == {}


def test_an_ear_is_another_with_other_words() -> None:
    """The one that leans hangs on the vocabulary, the plain one does not."""
    assert len({made_of(name) for name in EARS}) == len(EARS)


def test_vosk_is_measured_only_with_a_model(tmp_path: Path) -> None:
    """There is none of English to be had without a network."""
    assert not any(name.startswith("vosk") for name in available())
    assert {"vosk", "vosk without words"} < set(available(tmp_path))


def test_the_timed_clips_are_always_the_same() -> None:
    """In whatever order they come."""
    assert fixed_subset(["c", "a", "b"], 2) == fixed_subset(["b", "c", "a"], 2) == ["a", "b"]
