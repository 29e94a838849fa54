"""The radiotelephony spelling alphabet.

Sources: ICAO Annex 10 Vol. II, 5.2.1.3 and ITU Radio Regulations, Appendix 14 (Alfa, Juliett);
United States documents also write Alpha and Juliet, NATO and the FAA Xray.
"""

from __future__ import annotations

import string

from voicelog.interpret.spelling import spell

ALPHABET = (
    "Alfa Bravo Charlie Delta Echo Foxtrot Golf Hotel India Juliett Kilo Lima Mike November Oscar "
    "Papa Quebec Romeo Sierra Tango Uniform Victor Whiskey X-ray Yankee Zulu"
)


def test_the_alphabet_spells_the_alphabet() -> None:
    """Twenty-six words, A to Z."""
    assert spell(ALPHABET.lower().split()).text == string.ascii_uppercase


def test_the_other_official_spellings() -> None:
    """Alpha, Juliet and Xray as the United States and NATO write them."""
    assert spell(["alpha", "juliet", "xray"]).text == "AJX"


def test_figures_zero_to_nine() -> None:
    """Plain English; the first two of the ITU's figure words were read in a source."""
    assert (
        spell(["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]).text
        == "0123456789"
    )
    assert spell(["nadazero", "unaone"]).text == "01"


def test_a_number_spelled_over_the_radio() -> None:
    """The identification number of 49 CFR's check digit example, with aviation's niner."""
    said = (
        "one mike eight golf delta mike niner alfa x-ray kilo papa zero four two seven eight eight"
    )
    assert spell(said.split()).text == "1M8GDM9AXKP042788"
