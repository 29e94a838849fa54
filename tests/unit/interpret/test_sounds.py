"""How alike words sound: the confusions that were measured, and words nobody mixes up.

Source of the pairs: the project's own measurement of two small recognisers over 968 recordings of
synthetic speech; the thresholds are ours.
"""

from __future__ import annotations

import pytest

from voicelog.interpret.sounds import alike, all_sounds, skeleton, sounds

CONFUSED = {
    0.99: ["brake/break", "hole/whole", "torque/tork", "brake line/break line"],
    0.9: ["surface rust/surface rest", "control arm/control on"],
    0.83: [
        "rust/rest", "sill/seal", "sill/cell", "seam/same", "seam/scene", "say again/same again",
        "driver/drive a", "bulkhead/bulk head", "frame/framed", "cross member/crossed number",
    ],
    0.74: [
        "weld/well", "hole/hold", "rot/right", "seam/seems", "patch/poach", "patch/pitch",
        "thin/then", "inner/in a", "surface rust/service dressed", "front rail/run trail",
    ],
    0.66: ["arm/on", "sill/still", "floor/four", "rear/re", "bolts/belt", "millimetres/millimbers"],
    0.57: [
        "tap/tube", "rear/where", "hole/pull", "hole/all", "right/bright", "tower/hour",
        "passenger/pass in your", "sill/scale",
    ],
}  # fmt: skip
"""Said and heard, by the lowest likeness."""

UNRELATED = [
    "rust/front", "hole/door", "sill/left", "surface/coffee", "crack/rail", "rail/scale",
    "spring hanger/tea tomorrow", "cross member/dinner time", "control arm/phone call",
    "hole/right", "patch/weld", "member/hammer",
]  # fmt: skip


@pytest.mark.parametrize(
    ("pair", "least"), [(pair, least) for least, pairs in CONFUSED.items() for pair in pairs]
)
def test_what_is_confused_sounds_alike(pair: str, least: float) -> None:
    """Vowels shifted, voices and places of consonants changed, ends of words swallowed."""
    said, heard = map(sounds, pair.split("/"))
    assert alike(said, heard) >= least


@pytest.mark.parametrize("pair", UNRELATED)
def test_other_words_do_not(pair: str) -> None:
    """Words of the trade and of talk, far under any threshold in use."""
    one, other = map(sounds, pair.split("/"))
    assert alike(one, other) < 0.5


@pytest.mark.parametrize(
    ("near", "far"),
    [
        ("pin/bin", "pin/kin"),
        ("ten/den", "ten/men"),
        ("arm/am", "arm/aim"),
        ("weld/well", "weld/wed"),
        ("hole/ole", "hole/mole"),
        ("bed/bad", "bed/bode"),
        ("rust/russ", "trust/rust"),
    ],
)
def test_the_nearer_of_two_sounds_is_nearer(near: str, far: str) -> None:
    """Voicing before place, place before manner; r before another vowel; ends before beginnings."""
    assert _alike(near) > _alike(far)


def test_a_word_has_every_sound_of_the_dictionary() -> None:
    """ "Lead" the metal and "lead" the way."""
    assert set(all_sounds("lead")) == {sounds("led"), sounds("leed")}


def test_words_without_letters_have_no_sound() -> None:
    """Figures and other scripts are silent, and nothing is like silence but silence."""
    assert sounds("15 ржа") == ""
    assert alike("", "") == 1.0
    assert alike("", sounds("rust")) == 0.0


@pytest.mark.parametrize(
    ("text", "other"),
    [("control arm", "control on"), ("brake", "pragg"), ("sill", "seal"), ("arm", "on")],
)
def test_confused_words_share_a_skeleton(text: str, other: str) -> None:
    """Vowels, voices and r before no vowel leave no trace in it."""
    assert skeleton(sounds(text)) == skeleton(sounds(other))


def _alike(pair: str) -> float:
    one, other = map(sounds, pair.split("/"))
    return alike(one, other)
