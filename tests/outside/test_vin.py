"""Check digits of vehicle identification numbers.

Sources: 49 CFR 565.15(c), Tables III to V, and a sample number of an earlier edition; NHTSA's guide
for new manufacturers. Second implementation: the package vininfo.
"""

from __future__ import annotations

import random

import pytest
import vininfo

from voicelog.domain.vin import vin_check

ALPHABET = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"


@pytest.mark.parametrize(
    ("vin", "expected"),
    [
        ("1G4AH59H45G118341", "4"),
        ("1J9RP1A36A1644345", "6"),
        ("1M8GDM9AXKP042788", "X"),
        ("11111111111111111", "1"),
        ("5GZCZ43D13S812715", "1"),
    ],
)
def test_published_numbers_are_valid(vin: str, expected: str) -> None:
    """The check digit computed is the one printed, also by the other implementation."""
    checked = vin_check(vin)
    assert (checked.valid, checked.expected) == (True, expected)
    assert vininfo.Vin(vin).verify_checksum()


def test_a_five_heard_as_s_is_caught() -> None:
    """SGZCZ… asks for X where 1 stands."""
    checked = vin_check("SGZCZ43D13S812715")
    assert (checked.valid, checked.expected) == (False, "X")
    assert not vininfo.Vin("SGZCZ43D13S812715").verify_checksum()


@pytest.mark.parametrize("letter", "IOQ")
def test_three_letters_are_never_used(letter: str) -> None:
    """565.15: I, O and Q look like digits."""
    assert not vin_check(letter + "G4AH59H45G118341"[:16]).valid


def test_both_implementations_agree_on_random_numbers() -> None:
    """500 seeded numbers with random check digits, one in eleven of them valid.

    The other implementation knows makers without check digits and letters that no model year uses;
    a North American maker's code and ``check_year=False`` leave the arithmetic alone.
    """
    chance = random.Random(565)
    verdicts = set()
    for _ in range(500):
        drawn = [*"1M8", *chance.choices(ALPHABET, k=14)]
        drawn[8] = chance.choice("0123456789X")
        vin = "".join(drawn)
        assert vin_check(vin).valid == vininfo.Vin(vin).verify_checksum(check_year=False), vin
        verdicts.add(vin_check(vin).valid)
    assert verdicts == {True, False}


def test_every_wrong_digit_of_the_serial_is_caught() -> None:
    """One wrong digit always changes the sum: no weight is a multiple of 11."""
    good = "1M8GDM9AXKP042788"
    for position in range(11, 17):
        for digit in "0123456789":
            vin = good[:position] + digit + good[position + 1 :]
            assert vin_check(vin).valid == (digit == good[position])
