"""What may stand in a slot of names: its values in order, and everything they are called."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from voicelog.domain.heard import Hypothesis
from voicelog.domain.inert import inert
from voicelog.domain.reading import Phrase, Speech, Vocabulary
from voicelog.domain.slot import CONDITIONS, SLOTS
from voicelog.domain.zone import ZoneMap
from voicelog.errors import UsageFault
from voicelog.interpret.cover import Item
from voicelog.interpret.draft import Draft
from voicelog.interpret.placing import Context, places
from voicelog.interpret.tokens import tokenise
from voicelog.tongue import Worded, either, worded

LONGEST_SHOWN = 60
"""Characters of a person's text that a message repeats."""
_CLASSES: Mapping[str, tuple[str, ...]] = {
    "zone": ("zone", "family"),
    "side": ("side", "kerb", "seat", "viewer"),
    "face": ("face", "end"),
    "condition": ("condition", "rust", "rot"),
}
"""Word classes whose phrases name a value of the slot; any other slot has only its own."""
_ENDINGS = ("_mm", "_percent")
_NEAR = 60.0
"""Least likeness of a suggestion, 0 to 100 (rapidfuzz's weighted ratio)."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """What one phrase says of a slot.

    Args:
        text: the phrase.
        values: the values it may stand for: several where zones share a name, or where the one
            that is meant cannot be told.
        misheard: recognisers write it, nobody says it.
        doubt: why it cannot be told.
    """

    text: str
    values: tuple[str, ...]
    misheard: bool = False
    doubt: str = ""


def values_of(
    slot: str, zone_map: ZoneMap, conditions: Sequence[str] = CONDITIONS
) -> dict[str, str]:
    """Every value of the slot with its title, in the order of the map or of the closed list.

    Empty for a slot of numbers or text.
    """
    if slot == "zone":
        return {zone.id: zone.title for zone in zone_map.zones.values()}
    names = conditions if slot == "condition" else SLOTS[slot].choices
    return {name: name.replace("-", " ") for name in names}


def meanings(
    slot: str, vocabulary: Vocabulary, zone_map: ZoneMap, speech: Speech = Speech()
) -> Iterator[Meaning]:
    """Everything the vocabulary can say of the slot, as this speaker means it."""
    classes, known = _CLASSES.get(slot, (slot,)), values_of(slot, zone_map)
    context = Context(zone_map, speech)
    for phrase in vocabulary.phrases:
        if phrase.slot not in classes:
            continue
        named = (phrase.value.split("+"), "")
        values, doubt = _side(phrase, context) if slot == "side" else named
        kept = tuple(value for value in values if value in known)
        if kept:
            yield Meaning(phrase.text, kept, phrase.misheard, doubt)


def _side(phrase: Phrase, context: Context) -> tuple[Sequence[str], str]:
    """The side as an utterance of these words alone would be taken; or those asked for, and why."""
    item = Item(phrase.slot, phrase.value, 0, 1, text=phrase.text)
    place = places(Draft(sides=[item]), context)[0]
    if place.questions:
        return place.questions[0].options, place.doubts[0]
    return [str(place.slots["side"])] if "side" in place.slots else [], ""


def slot_named(name: str) -> str:
    """The slot that a person means: its exact name, or without its unit ("size" is size_mm).

    Raises:
        UsageFault: there is no such slot; the hint names the nearest.
    """
    wanted = name.strip().lower().replace("-", "_")
    for slot in (wanted, *(wanted + ending for ending in _ENDINGS)):
        if slot in SLOTS:
            return slot
    raise no_such(name, worded("slot"), tuple(map(short_name, SLOTS)))


def short_name(slot: str) -> str:
    """The slot's name as it is typed: without its unit where it has one."""
    for ending in _ENDINGS:
        slot = slot.removesuffix(ending)
    return slot


def no_such(text: str, noun: Worded, names: Sequence[str], near: Iterable[str] = ()) -> UsageFault:
    """The fault of a name that is not there.

    Args:
        text: what was typed.
        noun: what it should have been.
        names: what it could have been.
        near: which of them are near, best first; by spelling where not given.
    """
    likely = tuple(near) or nearest(text, names)
    hint = (
        worded("Did you mean {likely}?", likely=either(likely))
        if likely
        else worded("There are: {names}", names=", ".join(names))
    )
    return UsageFault(worded("{text} is no {noun}", text=shown(text), noun=noun), hint)


def nearest(text: str, names: Sequence[str], limit: int = 3) -> tuple[str, ...]:
    """The names that are spelled most like the text, best first; none where none is near."""
    from rapidfuzz import fuzz, process  # only faults need it

    found = process.extract(
        text.lower()[:LONGEST_SHOWN], names, scorer=fuzz.WRatio, score_cutoff=_NEAR, limit=limit
    )
    return tuple(name for name, *_ in found)


def shown(text: str) -> str:
    """A person's text within a message: quoted, short, harmless."""
    return f'"{inert(text.strip(), LONGEST_SHOWN)}"'


def words_of(text: str) -> list[str]:
    """The words of a text as phrases are matched: lower case, hyphens and punctuation gone."""
    return [token.text for token in tokenise(Hypothesis(text.replace("_", " ")))]
