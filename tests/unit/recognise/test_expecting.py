"""Telling the built-in ear what is waited for."""

from __future__ import annotations

import re
from collections.abc import Callable

from voicelog.domain.sound import Clip
from voicelog.recognise.moonshine_engine import MoonshineEar
from voicelog.recognise.port import ANYTHING, Expected, hear_clip

Read = Callable[[str], bytes]
GO_ON = Expected(only=("logbook go ahead",))


def _text(ear: MoonshineEar, pcm: bytes) -> str:
    heard = hear_clip(ear, Clip(pcm, 0.0, 1.0))
    return " ".join(re.findall(r"[a-z']+", heard.text.lower()))


def test_in_stand_by_nothing_leans_to_the_trade(biased: MoonshineEar, clip: Read) -> None:
    """The brake line is heard only as long as it is of interest: not while the end of stand-by is waited for."""
    whole = _text(biased, clip("brake_line"))
    biased.expect(GO_ON)
    waiting = _text(biased, clip("brake_line"))
    biased.expect(ANYTHING)
    assert "brake line" in whole
    assert "brake line" not in waiting
    assert _text(biased, clip("brake_line")) == whole


def test_a_likely_word_is_heard_without_a_vocabulary_of_its_own(
    biased: MoonshineEar, clip: Read
) -> None:
    """Options of a question change nothing of a sentence that holds none of them."""
    whole = _text(biased, clip("bulkhead"))
    biased.expect(Expected(likely=("affirm", "negative"), placed=True))
    asked = _text(biased, clip("bulkhead"))
    biased.expect(ANYTHING)
    assert asked == whole


def test_an_ear_without_a_vocabulary_may_be_told(plain: MoonshineEar, clip: Read) -> None:
    """Whatever is likely, an ear that leans to nothing hears as before."""
    before = _text(plain, clip("brake_line"))
    plain.expect(Expected(likely=("sill",)))
    after = _text(plain, clip("brake_line"))
    plain.expect(ANYTHING)
    assert before == after
