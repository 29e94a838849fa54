"""Words that no dictionary has, said by their parts and their letters."""

from __future__ import annotations

import pytest

from voicelog.interpret.letters import by_letters, pronounce
from voicelog.interpret.pronunciations import PHONEMES


@pytest.mark.parametrize(
    ("word", "phonemes"),
    [
        ("colour", "K AA L ER"),
        ("flavour", "F L AE V ER"),
        ("centre", "S EH N T ER"),
        ("metre", "M EH T ER"),
        ("tyre", "T AY R"),
        ("rusted", "R AH S T IH D"),
        ("gripped", "G R IH P T"),
        ("scrape", "S K R EY P"),
        ("scraping", "S K R EY P IH NG"),
        ("knuckle", "N AH K AH L"),
        ("wrench", "R EH N CH"),
        ("gauges", "G AO JH IH Z"),
        ("bright", "B R AY T"),
        ("station", "S T EY SH AH N"),
        ("fixture", "F IH K S CH ER"),
        ("bridge", "B R IH JH"),
        ("Été", "EH T"),
        ("", ""),
        ("ржа", ""),
    ],
)
def test_letters_have_their_regular_sounds(word: str, phonemes: str) -> None:
    """Silent letters, soft c and g, a long vowel before a final e, British endings, accents."""
    assert by_letters(word) == "".join(PHONEMES[each] for each in phonemes.split())


@pytest.mark.parametrize(
    ("word", "phonemes"),
    [
        ("crossmembers", "K R AO S M EH M B ER Z"),
        ("wheelarch", "W IY L AA R CH"),
        ("towbar", "T OW B AA R"),
        ("recoated", "R IY K OW T AH D"),
        ("millimbers", "M IH L IH M B ER Z"),
    ],
)
def test_a_compound_is_said_as_its_parts(word: str, phonemes: str) -> None:
    """Two words of the dictionary, a sound that both share said once, or one behind a prefix."""
    assert pronounce(word) == "".join(PHONEMES[each] for each in phonemes.split())
