"""Names of a unibody's structural parts, from a list that somebody else made.

Source: New Zealand Transport Agency, Vehicle inspection requirements manual (VIRM), border
inspection, reference material 1, guidelines for the detection of reportable damage: the structural
parts drawn there. https://vehicleinspection.nzta.govt.nz/virms/border-inspection/reference-materials/guidelines-detection-reportable-damage
The names are the manual's; which place of our map each belongs to is our own reading of it.
"""

from __future__ import annotations

import pytest

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import load_settings
from voicelog.domain.slot import Slots
from voicelog.runtime.opening import open_reading

PARTS = {
    "inner guard": "inner-wing",
    "upper chassis rail": "upper-rail",
    "strut tower": "strut-tower",
    "A pillar": "a-post",
    "windscreen header": "cant-rail",
    "roof stiffener": "cant-rail",
    "parcel tray": "parcel-shelf",
    "cant rail": "cant-rail",
    "C pillar": "c-post",
    "rear panel": "rear-panel",
    "quarter panel": "quarter-panel",
    "boot floor": "boot-floor",
    "seat back": "parcel-shelf",
    "rear seat floor": "floor-pan",
    "B pillar": "b-post",
    "floor": "floor-pan",
    "sill": "sill",
    "rocker panel": "sill",
    "bulkhead": "bulkhead",
    "lower chassis rail": "front-rail",
    "engine chassis rail": "front-rail",
    "front bumper": "bumper-beam",
    "spare wheel well": "spare-wheel-well",
    "tunnel": "tunnel",
    "rear seat cross beam": "seat-cross-member",
    "rear suspension cross beam": "rear-cross-member",
}

FORMS = ("left {}, hole", "there's a hole in the {} on the left")


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    """The shipped words with the unibody map."""
    return load_grammar("unibody")


@pytest.mark.parametrize("part", PARTS)
def test_a_part_of_the_list_is_a_name_of_the_map(part: str, grammar: Grammar) -> None:
    """Said, not only misheard, and meaning one place."""
    said = {p.text: (p.slot, p.value) for p in grammar.vocabulary.phrases if not p.misheard}
    assert said[part.lower()] == ("zone", PARTS[part])


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Slots]:
    """What was found by each sentence, all in one inspection, a minute apart."""
    no_settings = tmp_path_factory.mktemp("parts") / "settings.toml"
    no_settings.touch()
    settings = load_settings({"map": "unibody"}, user_file=no_settings, environ={})
    sentences = [form.format(part) for part in PARTS for form in FORMS]
    with open_reading(settings, keep=False) as session:
        for number, sentence in enumerate(sentences):
            session.read(sentence, at_s=number * 60.0)
        live = session.inspection().live
    return dict(zip(sentences, (finding.entry.slots for finding in live), strict=True))


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("form", FORMS)
def test_a_part_of_the_list_is_understood(part: str, form: str, found: dict[str, Slots]) -> None:
    """In a sentence, a finding at that place."""
    slots = found[form.format(part)]
    assert (slots["zone"], slots["condition"]) == (PARTS[part], "hole")
