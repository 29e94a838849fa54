"""A vocabulary of a few phrases, so that no change of the shipped words moves these tests."""

from __future__ import annotations

import pytest

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.domain.zone import Family, Layout, Role, Zone, ZoneMap
from voicelog.interpret.reader import Reader

_SAID = {
    ("zone", "front-rail"): ["front rail"],
    ("zone", "rear-rail"): ["rear rail"],
    ("zone", "outrigger"): ["outrigger"],
    ("zone", "gearbox-cross-member"): ["gearbox cross member"],
    ("family", "front-rail+rear-rail"): ["rail"],
    ("side", "left"): ["left"],
    ("side", "right"): ["right"],
    ("end", "front"): ["front"],
    ("end", "rear"): ["rear"],
    ("condition", "surface-rust"): ["surface rust"],
    ("condition", "scale"): ["scale"],
    ("condition", "pitting"): ["pitting"],
    ("condition", "hole"): ["hole"],
    ("condition", "pack-rust"): ["blown seam", "seam has blown"],
    ("clear", "clean"): ["clean"],
    ("negation", "no"): ["no", "not"],
    ("filler", "light"): ["the", "a", "of", "on", "in", "is", "really"],
    ("filler", "thing"): ["bolts"],
    ("filler", "filler"): ["bit", "rest", "bench", "van", "paint"],
    ("address", "address"): ["pass me", "tell him"],
    ("question", "question"): ["is that"],
    ("past", "past"): ["used to be"],
}


def _zone(name: str, layout: Layout = Layout.PAIR) -> Zone:
    title = name.replace("-", " ").capitalize()
    return Zone(name, title, Role.LOAD_PATH, layout)


@pytest.fixture(scope="module")
def few_words() -> Vocabulary:
    """Three dozen phrases of the classes that a plain report is made of."""
    return Vocabulary(
        tuple(Phrase(text, *meaning) for meaning, texts in _SAID.items() for text in texts)
    )


@pytest.fixture(scope="module")
def small_reader(few_words: Vocabulary) -> Reader:
    """A reader of these words over a map of four places, three of which come in pairs."""
    zones = [_zone("front-rail"), _zone("rear-rail"), _zone("outrigger")]
    zones.append(_zone("gearbox-cross-member", Layout.ONE))
    rails = Family(
        ("rail",), ("front-rail", "rear-rail"), {"front": "front-rail", "rear": "rear-rail"}
    )
    small = ZoneMap("small", "Small", {zone.id: zone for zone in zones}, (rails,))
    return Reader(few_words, small)
