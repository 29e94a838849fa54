"""A zone, a condition or a word of a closed list by any name that a person may type."""

from __future__ import annotations

from collections.abc import Sequence

from voicelog.domain.reading import Speech, Vocabulary
from voicelog.domain.zone import ZoneMap
from voicelog.errors import UsageFault
from voicelog.interpret.lexicon import key
from voicelog.interpret.slot_words import Meaning, meanings, no_such, shown, values_of, words_of
from voicelog.interpret.suggest import Picker
from voicelog.tongue import as_it_is, worded

_NEAR = 3
"""Suggestions in a message."""
_ARTICLES = ("the", "a", "an")


def named_value(
    slot: str, text: str, zone_map: ZoneMap, vocabulary: Vocabulary, speech: Speech
) -> str:
    """The one value that the text names: by id, by title, then by the words one says for it.

    Raises:
        UsageFault: it names none, or several zones that share a name, or a side that depends on
            what is not known; the hint gives the values to choose from.
    """
    wanted = _keys(text)
    for value, title in values_of(slot, zone_map).items():
        if wanted & {key(words_of(value)), key(words_of(title))}:
            return value
    said = [
        meaning
        for meaning in meanings(slot, vocabulary, zone_map, speech)
        if not meaning.misheard and key(meaning.text.split()) in wanted
    ]
    values = tuple(dict.fromkeys(value for meaning in said for value in meaning.values))
    if len(values) == 1:
        return values[0]
    if said:
        raise _unsettled(slot, text, said, values)
    near = Picker(vocabulary, zone_map, speech=speech).choices(slot, text, limit=_NEAR)
    names = tuple(values_of(slot, zone_map))
    raise no_such(text, as_it_is(slot.replace("_", " ")), names, [choice.value for choice in near])


def _keys(text: str) -> set[str]:
    """The words run together, with an article in front and without; none for no words."""
    words = words_of(text)
    behind = words[1:] if words and words[0] in _ARTICLES else words
    return {key(words), key(behind)} - {""}


def _unsettled(slot: str, text: str, said: Sequence[Meaning], values: Sequence[str]) -> UsageFault:
    """The fault of a name that leaves several values open."""
    doubt = next((meaning.doubt for meaning in said if meaning.doubt), "")
    return UsageFault(
        worded(
            "{text} is not settled: {why}",
            text=shown(text),
            why=doubt or worded("it may be more than one {slot}", slot=slot),
        ),
        worded("Give one of: {values}", values=", ".join(values)),
    )
