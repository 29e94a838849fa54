"""The sound of an entry for the bench: read once, with times for its words."""

from __future__ import annotations

from pathlib import Path

import pytest
from reviewing import clip

from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.utterance import KeptClip, Utterance
from voicelog.errors import InputFault
from voicelog.journal.clips import write_clip
from voicelog.runtime.bench_sound import KEPT, BenchSound


def uttered(folder: Path, name: str = "u2", **known: float) -> Utterance:
    """An utterance of one word whose clip lies in the folder."""
    kept = write_clip(folder, name, clip())
    heard = Heard((Hypothesis("sill", 0.0, (Word("sill", 0.9, **known),)),), "built-in")
    return Utterance(name, "", 0.0, heard, "sill", KeptClip(kept["file"], kept["duration_s"]))


def test_words_get_their_times(tmp_path: Path) -> None:
    """Estimated within the clip; those that the ear gave stay."""
    sounded = BenchSound(tmp_path, lambda: None).of(uttered(tmp_path))
    word = sounded.heard.hypotheses[0].words[0]
    assert word.start_s is not None
    assert word.end_s is not None
    assert 0.0 <= word.start_s < word.end_s <= clip().duration_s
    told = uttered(tmp_path, "u3", start_s=0.1, end_s=0.2)
    assert BenchSound(tmp_path, lambda: None).of(told).heard == told.heard


def test_the_words_that_were_read_get_the_times(tmp_path: Path) -> None:
    """Where another hypothesis than the ear's best was read, its words are those on the screen."""
    kept = write_clip(tmp_path, "u2", clip())
    heard = Heard((Hypothesis("seal", 0.0), Hypothesis("sill", -1.0)), "built-in")
    file = KeptClip(kept["file"], kept["duration_s"])
    sounded = BenchSound(tmp_path, lambda: None).of(Utterance("u2", "", 0.0, heard, "sill", file))
    times = {h.text: [word.start_s for word in h.words] for h in sounded.heard.hypotheses}
    assert times["sill"]
    assert None not in times["sill"]


def test_samples_are_those_that_were_kept(tmp_path: Path) -> None:
    """Every one of them."""
    sounded = BenchSound(tmp_path, lambda: None).of(uttered(tmp_path))
    assert sounded.samples().tobytes() == clip().pcm


def test_it_is_read_once_and_only_so_many_stay(tmp_path: Path) -> None:
    """The file may vanish meanwhile; the oldest is forgotten."""
    sound = BenchSound(tmp_path, lambda: None)
    first = uttered(tmp_path)
    sound.of(first)
    (tmp_path / "clips" / "u2.flac").unlink()
    assert sound.of(first) is sound.known("u2")
    for number in range(KEPT):
        sound.of(uttered(tmp_path, f"u{10 + number}"))
    assert sound.known("u2") is None
    with pytest.raises(InputFault):
        sound.of(first)


def test_no_sound_is_told(tmp_path: Path) -> None:
    """Typed, or erased."""
    with pytest.raises(InputFault, match="No sound of u2"):
        BenchSound(tmp_path, lambda: None).of(Utterance("u2", "", 0.0, Heard.typed("sill")))
