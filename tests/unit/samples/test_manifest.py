"""The demo recordings are whole, and their manifest says about them what is true."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
import pytest
import soundfile

from voicelog.config.data import samples_dir
from voicelog.config.grammar import load_grammar
from voicelog.domain.entry import Kind
from voicelog.domain.slot import CONDITIONS, SLOTS, plausible
from voicelog.domain.sound import SAMPLE_RATE
from voicelog.domain.zone import Layout, ZoneMap

MANIFEST: dict[str, Any] = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
UTTERANCES: list[dict[str, Any]] = MANIFEST["utterances"]
MARKS = {"kind", "grade", "from"}
LARGEST_BYTES = 12_000_000
UNSPOKEN: frozenset[str] = frozenset()
"""Conditions that are newer than the recordings; ``audio_samples/make.py`` speaks them anew."""


def slots(entry: Mapping[str, Any]) -> dict[str, Any]:
    """The slots of a wanted entry, without what is not a slot."""
    return {name: value for name, value in entry.items() if name not in MARKS}


def entries() -> Iterator[Mapping[str, Any]]:
    """Every entry any utterance makes, and every one that stands at the end."""
    for utterance in UTTERANCES:
        yield from utterance["want"]
    yield from MANIFEST["final"]


@pytest.fixture(scope="module")
def zone_map() -> ZoneMap:
    """The map the demo is inspected by."""
    return load_grammar(MANIFEST["map"]).zone_map


@pytest.mark.parametrize("utterance", UTTERANCES, ids=lambda utterance: str(utterance["id"]))
def test_the_clip_is_the_one_described(utterance: Mapping[str, Any]) -> None:
    """It is there, unaltered, 16 kHz, one channel, 16 bit, and as long as stated."""
    file = samples_dir() / utterance["file"]
    assert hashlib.sha256(file.read_bytes()).hexdigest() == utterance["sha256"]
    info = soundfile.info(file)
    assert (info.samplerate, info.channels) == (SAMPLE_RATE, 1)
    assert (info.format, info.subtype) == ("FLAC", "PCM_16")
    assert info.duration == pytest.approx(utterance["duration_s"])


@pytest.mark.parametrize("utterance", UTTERANCES, ids=lambda utterance: str(utterance["id"]))
def test_the_clip_holds_speech_between_two_stretches_of_background(
    utterance: Mapping[str, Any],
) -> None:
    """The middle is louder than the first 0.5 s and the last 0.9 s, and nothing is clipped."""
    samples, _ = soundfile.read(samples_dir() / utterance["file"])
    before, after = int(0.5 * SAMPLE_RATE), int(0.9 * SAMPLE_RATE)
    power = [float(np.mean(part**2)) for part in np.split(samples, [before, len(samples) - after])]
    assert power[1] > 1.5 * max(power[0], power[2]) > 0.0
    assert np.abs(samples).max() < 0.98


def test_every_file_is_listed_once_and_all_are_small() -> None:
    """No stray clip, no double id, 32 to 40 utterances, under 12 MB."""
    files = sorted(samples_dir().glob("*.flac"))
    assert [file.name for file in files] == sorted(u["file"] for u in UTTERANCES)
    assert len({utterance["id"] for utterance in UTTERANCES}) == len(UTTERANCES)
    assert 32 <= len(UTTERANCES) <= 40
    assert sum(file.stat().st_size for file in samples_dir().iterdir()) < LARGEST_BYTES


def test_every_condition_is_said_and_nearly_all_stand_at_the_end() -> None:
    """Each condition is wanted somewhere; none but the withdrawn and amended ones get lost."""
    spoken = set(CONDITIONS) - UNSPOKEN
    assert {entry.get("condition") for entry in entries()} - {None} == spoken
    assert {entry.get("condition") for entry in MANIFEST["final"]} - {None} == spoken


def test_every_wanted_entry_can_be_made() -> None:
    """Kinds, slots and words are the program's own, and numbers lie within their bounds."""
    for entry in entries():
        assert entry["kind"] in set(Kind) - {Kind.REMARK}
        for name, value in slots(entry).items():
            spec = SLOTS[name]
            assert not spec.choices or value in spec.choices
            assert isinstance(value, str) == (spec.kind in ("word", "name", "text"))
            assert plausible(name, value)


def test_findings_have_a_condition_and_a_grade_and_nothing_else_has() -> None:
    """What is no finding has neither."""
    for entry in entries():
        finding = entry["kind"] == "finding"
        assert ("condition" in entry) == finding
        assert ("grade" in entry) == finding
        assert entry.get("grade", "treat") in ("cosmetic", "treat", "repair", "unsafe")


def test_places_are_on_the_map_and_sides_are_known(zone_map: ZoneMap) -> None:
    """Every zone exists, and where a zone is one of a pair its side is wanted too."""
    for entry in entries():
        zone = zone_map[entry["zone"]]
        assert "side" in entry or zone.layout is not Layout.PAIR


def test_insides_are_wanted_only_where_a_cavity_hides(zone_map: ZoneMap) -> None:
    """The unsafe hole in the pocket and the pocket not seen are in a zone with a cavity."""
    inside = [entry for entry in MANIFEST["final"] if entry.get("face") == "interior"]
    assert {entry["kind"] for entry in inside} == {"finding", "not-seen", "photo"}
    assert {entry["zone"] for entry in inside} == {"control-arm-mount"}
    assert all(zone_map[entry["zone"]].cavity == "always" for entry in inside)
    assert [entry["grade"] for entry in inside if entry["kind"] == "finding"] == ["unsafe"]


def test_the_losses_follow_from_the_thicknesses() -> None:
    """The loss is (nominal - measured) / nominal, in percent."""
    thinned = [entry for entry in MANIFEST["final"] if entry.get("condition") == "thinning"]
    assert len(thinned) == 2
    for entry in thinned:
        loss = 100.0 * (1.0 - entry["thickness_mm"] / entry["nominal_mm"])
        assert entry["loss_percent"] == pytest.approx(loss, abs=0.01)


def test_later_words_change_entries_that_were_made_before() -> None:
    """A correction, a late probe and a disregard, each of an earlier utterance's entry."""
    made: set[tuple[str, int]] = set()
    reasons: list[str] = []
    for utterance in UTTERANCES:
        for change in utterance.get("amends", []) + utterance.get("withdraws", []):
            assert (change["of"], change["nth"]) in made
            reasons.append(change.get("why", "withdrawn"))
        made |= {(utterance["id"], nth) for nth in range(len(utterance["want"]))}
    assert reasons == ["correction", "probe", "withdrawn"]


def test_the_end_is_what_the_utterances_add_up_to() -> None:
    """``final`` holds each entry made, changed as said later, without the withdrawn one."""
    standing = {
        (u["id"], nth): dict(want) for u in UTTERANCES for nth, want in enumerate(u["want"])
    }
    for utterance in UTTERANCES:
        for change in utterance.get("amends", []):
            standing[change["of"], change["nth"]] |= change["set"]
        for change in utterance.get("withdraws", []):
            standing.pop((change["of"], change["nth"]))
    want = [{"from": made_by, **entry} for (made_by, _), entry in standing.items()]
    assert want == MANIFEST["final"]


def test_nothing_comes_of_chatter_or_of_standing_by() -> None:
    """Chatter lies both between stand by and go ahead and outside, and wants nothing."""
    texts = [utterance["text"] for utterance in UTTERANCES]
    away = range(texts.index("logbook, stand by"), texts.index("logbook, go ahead") + 1)
    chatter = [at for at, utterance in enumerate(UTTERANCES) if utterance["chatter"]]
    assert [at in away for at in chatter] == [False, True, True, False]
    assert not any(UTTERANCES[at]["want"] for at in [*chatter, *away])


def test_numbers_come_in_many_units_and_the_end_is_spoken() -> None:
    """Millimetres, inches, thou, percent, a coin and a gauge; then the last words."""
    units = ("millimetres", "inch", "thou", "percent", "quarter,", "gauge")
    texts = [f"{utterance['text']}," for utterance in UTTERANCES]
    assert all(any(unit in text for text in texts) for unit in units)
    assert UTTERANCES[-1]["text"] == "finish inspection"


def test_several_voices_speak_and_each_has_a_licence() -> None:
    """At least three voices; every clip carries the licence of its own."""
    used = {utterance["voice"] for utterance in UTTERANCES}
    assert used == set(MANIFEST["voices"])
    assert len(used) >= 3
    for utterance in UTTERANCES:
        assert utterance["licence"] == MANIFEST["voices"][utterance["voice"]]["licence"] != ""


def test_part_of_it_is_noisy() -> None:
    """A third or so has shop noise, at 20, 10 and 5 dB, of several kinds."""
    noises = [utterance["noise"] for utterance in UTTERANCES if utterance["noise"]]
    assert 12 <= len(noises) <= 14
    assert {noise["snr_db"] for noise in noises} == {5, 10, 20}
    assert len({noise["kind"] for noise in noises}) >= 4


@pytest.mark.parametrize(
    "utterance",
    [u for u in UTTERANCES if u["noise"] and u["noise"]["kind"] in ("pink", "compressor")],
    ids=lambda utterance: str(utterance["id"]),
)
def test_steady_noise_is_as_loud_as_stated(utterance: Mapping[str, Any]) -> None:
    """Speech against the background around it, measured anew, is within 3 dB of the stated SNR."""
    samples, _ = soundfile.read(samples_dir() / utterance["file"])
    before, after = int(0.55 * SAMPLE_RATE), int(0.95 * SAMPLE_RATE)
    first, middle, last = np.split(samples, [before, len(samples) - after])
    background = float(np.mean(np.concatenate([first, last]) ** 2))
    snr_db = 10.0 * np.log10(float(np.mean(middle**2)) / background - 1.0)
    assert snr_db == pytest.approx(utterance["noise"]["snr_db"], abs=3.0)
