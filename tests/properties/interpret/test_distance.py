"""What holds for the distance between any sounds: it is a metric, and so is its normalised form."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from voicelog.interpret.bounds import least_apart, profile
from voicelog.interpret.letters import by_letters
from voicelog.interpret.phonemes import SYMBOLS, losses, swaps
from voicelog.interpret.sounds import alike, distance, skeleton, sounds, weight

some_sounds = st.text(alphabet=SYMBOLS, max_size=10)
ROUNDING = 1e-9


def test_no_detour_between_phonemes_is_shorter() -> None:
    """Every triple of the 63 symbols, and every pair by way of a loss, both ways the same."""
    swap, lost = swaps(), losses()
    for one, other, between in product(SYMBOLS, repeat=3):
        assert swap[one][other] <= swap[one][between] + swap[between][other] + ROUNDING
    for one, other in product(SYMBOLS, repeat=2):
        assert swap[one][other] == swap[other][one]
        assert (swap[one][other] == 0.0) == (one == other)
        assert lost[one] <= swap[one][other] + lost[other] + ROUNDING
        assert swap[one][other] <= lost[one] + lost[other] + ROUNDING


@given(some_sounds, some_sounds)
def test_it_is_the_same_both_ways(one: str, other: str) -> None:
    """Distance and likeness."""
    assert distance(one, other) == pytest.approx(distance(other, one), abs=ROUNDING)
    assert alike(one, other) == pytest.approx(alike(other, one), abs=ROUNDING)


@given(some_sounds, some_sounds)
def test_only_a_sound_itself_is_no_distance_away(one: str, other: str) -> None:
    """Identity."""
    assert (distance(one, other) < ROUNDING) == (one == other)
    assert (alike(one, other) > 1.0 - ROUNDING) == (one == other)


@given(some_sounds, some_sounds, some_sounds)
def test_no_detour_is_shorter(one: str, other: str, between: str) -> None:
    """Triangle inequality, of the distance and of what likeness leaves to one."""
    assert distance(one, other) <= distance(one, between) + distance(between, other) + ROUNDING
    detour = (1.0 - alike(one, between)) + (1.0 - alike(between, other))
    assert 1.0 - alike(one, other) <= detour + ROUNDING


@given(some_sounds, some_sounds, st.floats(0.0, 1.0))
def test_a_threshold_changes_no_answer_over_it(one: str, other: str, least: float) -> None:
    """Giving up early never loses a likeness that counts."""
    whole = alike(one, other)
    cut = alike(one, other, least)
    assert 0.0 <= whole <= 1.0
    assert cut in (whole, 0.0)
    assert cut == whole or whole < least + ROUNDING


@given(some_sounds, some_sounds)
def test_weights_bound_the_distance(one: str, other: str) -> None:
    """By way of silence, and never less than the difference."""
    apart = distance(one, other)
    assert abs(weight(one) - weight(other)) - ROUNDING <= apart
    assert apart <= weight(one) + weight(other) + ROUNDING


@given(some_sounds, some_sounds)
def test_what_only_one_sound_has_bounds_the_distance(one: str, other: str) -> None:
    """Never more than the distance, the same both ways, and nought from a sound to itself."""
    least = least_apart(profile(one), profile(other))
    assert least == least_apart(profile(other), profile(one))
    assert least <= distance(one, other) + ROUNDING
    assert least_apart(profile(one), profile(one)) == 0.0


def test_the_bound_tells_most_of_what_is_apart() -> None:
    """Two phrases that share little are too far apart for a likeness of 0.85 by the bound alone."""
    one, other = sounds("rear cross member"), sounds("seat belt anchor")
    most = (weight(one) + weight(other)) * 0.15 / 1.85
    assert least_apart(profile(one), profile(other)) > most


@given(st.text(max_size=40))
def test_any_text_has_a_sound(text: str) -> None:
    """Of the known symbols, whatever the script."""
    assert set(sounds(text)) <= set(SYMBOLS)
    assert set(by_letters(text)) <= set(SYMBOLS)
    assert len(skeleton(sounds(text))) <= len(sounds(text))
