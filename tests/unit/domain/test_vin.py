"""Identification numbers: what is wrong with one, and what was probably meant."""

from __future__ import annotations

import pytest

from voicelog.domain.vin import Vin, likely_vins, vin_check

GOOD = "1M8GDM9AXKP042788"


def test_a_vin_is_checked_in_any_case() -> None:
    """Lower case and spaces around it do not matter."""
    assert vin_check(" 1m8gdm9axkp042788 ") == Vin("1M8GDM9AXKP042788", valid=True, expected="X")


@pytest.mark.parametrize(
    ("vin", "problem"),
    [
        ("1M8GDM9AXKP04278O", "position 17 is O"),
        ("1M8GDM9AXKP04278", "16 characters instead of 17"),
        ("1M8GDM9AXKP042_88", "position 15 is '_'"),
        ("1M8GDM9AXKP042789", "position 9 is X, the other characters ask for 1"),
        ("", "0 characters instead of 17"),
    ],
)
def test_a_bad_vin_says_what_is_wrong(vin: str, problem: str) -> None:
    """The position and what stands there, in plain words."""
    checked = vin_check(vin)
    assert not checked.valid
    assert problem in checked.problem


@pytest.mark.parametrize(("at", "heard"), [(1, "N"), (6, "5"), (10, "B"), (9, "A")])
def test_one_confusable_character_is_found(at: int, heard: str) -> None:
    """M and N, 9 and 5, P and B, K and A: the number said is among the few offered."""
    wrong = GOOD[:at] + heard + GOOD[at + 1 :]
    assert not vin_check(wrong).valid
    assert GOOD in likely_vins(wrong)


def test_every_number_offered_checks_and_differs_in_one_place() -> None:
    """At most four, none of them what was heard, likeliest first."""
    heard = "5GZCZ43D13S812719"
    offered = likely_vins(heard)
    assert 0 < len(offered) <= 4
    assert all(vin_check(vin).valid for vin in offered)
    assert {sum(a != b for a, b in zip(vin, heard, strict=True)) for vin in offered} == {1}


def test_letters_that_no_number_holds_are_taken_for_digits() -> None:
    """An O for a zero: the number with the zero comes first."""
    assert likely_vins("1M8GDM9AXKPO42788")[0] == GOOD


def test_a_number_of_another_length_has_no_likely_reading() -> None:
    """Nothing is made up for what was left out."""
    assert likely_vins(GOOD[:-1]) == ()
