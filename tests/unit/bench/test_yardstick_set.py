"""The speech set: what is kept out stays out, and the set is the same at every call."""

from __future__ import annotations

from yardstick.noises import CONDITIONS, KEPT_OUT, TUNING
from yardstick.speech_set import PARTS, speech_set
from yardstick.streams import _scenes, _voices
from yardstick.voices import VOICES

SETS = {part: speech_set(part) for part in PARTS}


def test_the_parts_share_no_text_and_no_voice() -> None:
    """Else what is reported was partly tuned on."""
    tuning, kept_out = ({s.text.casefold() for s in SETS[part]} for part in PARTS)
    assert not tuning & kept_out
    assert not {s.voice for s in SETS["tuning"]} & {s.voice for s in SETS["kept out"]}
    assert all(s.voice.kept_out == (s.part == "kept out") for part in PARTS for s in SETS[part])


def test_two_kinds_of_noise_are_never_tuned_on() -> None:
    """Only everything at once is in both parts."""
    assert {s.kind for s in SETS["tuning"]} == set(TUNING)
    assert {s.kind for s in SETS["kept out"]} == set(KEPT_OUT)
    assert len(set(KEPT_OUT) - set(TUNING)) == 2
    tuned = {
        scene.kind for name in ("talk", "noise") for scene in _scenes("tuning", 60, -18, (name,))
    }
    assert not tuned & (set(KEPT_OUT) - set(TUNING))


def test_it_is_as_large_as_it_has_to_be() -> None:
    """At least 300 utterances in six voices, two of them kept out, each in every condition."""
    every = [spoken for part in PARTS for spoken in SETS[part]]
    assert len({(s.text, s.voice) for s in every}) >= 300
    assert len({s.voice for s in every}) >= 6
    assert sum(voice.kept_out for voice in VOICES) >= 2
    assert len(every) == len(CONDITIONS) * len({(s.text, s.voice) for s in every})
    assert len({s.key for s in every}) == len(every)


def test_it_is_the_same_at_every_call() -> None:
    """Figures of two days can be compared; a quick look is the first part of the whole."""
    assert [s.key for s in speech_set("kept out")] == [s.key for s in SETS["kept out"]]
    few = speech_set("tuning", each=2)
    assert [s.key for s in few] == [s.key for s in SETS["tuning"]][: len(few)]
    assert len({s.voice for s in few}) == len({s.voice for s in SETS["tuning"]})


def test_kept_out_voices_take_no_part_in_chatter_that_is_tuned_on() -> None:
    """They chat only where nothing is tuned."""
    kept_out = {voice.name for voice in VOICES if voice.kept_out}
    assert not kept_out & set(_voices("tuning"))
    assert kept_out < set(_voices("kept out"))


def test_long_noise_has_every_kind_from_very_quiet_to_very_loud() -> None:
    """An hour of it, minute by minute."""
    scenes = _scenes("kept out", 60, -18.0, ("noise",))
    assert len(scenes) == 60
    assert {*TUNING, *KEPT_OUT, "pink"} == {scene.kind for scene in scenes}
    levels = [scene.level_dbfs for scene in scenes]
    assert min(levels) < -42
    assert -21 < max(levels) <= -18
