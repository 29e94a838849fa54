"""Choosing what stands on the page of spoken words: every place, every fault, every procedure word."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib.resources import files

from voicelog.config.grammar import Grammar
from voicelog.domain.reading import Vocabulary
from voicelog.domain.slot import CONDITIONS, FACES, METHODS, PARTS, PROBES, SIDES
from voicelog.domain.slot_title import value_title
from voicelog.domain.words_page import Said, Section, WordsPage
from voicelog.domain.zone import Layout, Zone

_Meaning = tuple[str, str]
"""Slot and value."""
_Chosen = Mapping[str, Mapping[str, Sequence[str]]]
"""Ways by slot and value."""

_WAYS, _ZONE_WAYS = 3, 3
"""Ways told of a fault and of a place, besides its name: as many as a page holds."""
_LONGEST, _SHORTEST = 22, 4
"""Characters of a way that is chosen by rule."""
_STEM = 4
"""Letters by which two words count as the same one: "pit" and "pitted" tell a reader nothing new."""

DOES: Mapping[str, str] = {
    "correction": "change the last entry",
    "disregard": "withdraw the last entry",
    "same": "the same fault here",
    "next": "a new finding begins",
    "photo": "a photo was taken here",
    "not-seen": "nobody could look; say why",
    "spell": "letters and digits follow",
    "stand-by": "keep nothing from now on",
    "go-ahead": "listen again",
    "affirm": "yes, to the tool",
    "negative": "no, to the tool",
    "say-again": "repeat the last answer",
    "read-back": "read out this place",
    "what-is-open": "say what nobody looked at yet",
    "finish": "close the inspection",
}
"""What the procedure words do, by their act."""

UNDER = (
    "Say the place, then what is there. How you tested it and how big it is may follow.",
    "Left and right are meant as if sitting in the vehicle, facing forward.",
)
EXAMPLES = (
    "Left {}, surface rust, metal is firm.",
    "Right {}, hole, twenty millimetres.",
    "Left {} is clean, probed it all solid.",
    "Right {}, not seen, splash shield in the way.",
)
"""Sentences for places that come in pairs."""
NUMBERS = (
    Said("size", ("three quarters of an inch", "twenty millimetres", "size of a quarter")),
    Said("thickness", ("reads two point two, three point two new", "eighty thou")),
    Said("count", ("two holes", "three of them")),
    Said("distance", ("six inches behind the spring hanger",)),
)
VEHICLE = (
    Said("odometer", ("eighty two thousand four hundred miles",)),
    Said("it's up on the two post lift", ("it's on stands",)),
    Said("it's filthy underneath", ("it's been undersealed",)),
    Said("owner won't let me scrape anything"),
    Said("inspected by", ("then first and last name",)),
)
FOOT = (
    "Other words mean the same; say it the way you would to a colleague. Printed by: voicelog words page."
    " The tool grades what was said and certifies nothing."
)


def words_page(grammar: Grammar, *, english: bool = True) -> WordsPage:
    """The page of a grammar in force.

    Args:
        grammar: words and map.
        english: False where the words are another language's: no English examples then.
    """
    spoken = _by_meaning(grammar.vocabulary)
    chosen = _chosen()
    sections = (
        *(_sentences(grammar) if english else ()),
        Section("Places", _places(grammar)),
        Section("What is there", _rows(spoken, chosen, "condition", CONDITIONS)),
        Section("What the metal did", _rows(spoken, chosen, "probe", PROBES)),
        Section("How it was tested", _rows(spoken, chosen, "method", METHODS)),
        Section("Side, face and part", _faces(spoken, chosen)),
        *([Section("Numbers", NUMBERS), Section("The vehicle itself", VEHICLE)] if english else []),
        Section("Procedure words", _steering(spoken, chosen), _wake(spoken)),
    )
    title = f"Spoken words: {grammar.zone_map.title.lower()}"
    return WordsPage(title, UNDER if english else (), sections, FOOT)


def ways_of(grammar: Grammar) -> Callable[[str, str], tuple[str, ...]]:
    """What the page tells people to say for a slot and its value, the plainest first."""
    spoken, chosen = _by_meaning(grammar.vocabulary), _chosen()
    return lambda slot, value: tuple(filter(None, _ways(spoken, chosen, slot, value)))


def place_ways(zone: Zone) -> tuple[str, ...]:
    """What the page tells people to call a place."""
    name = _spoken_title(zone)
    return name, *differing(zone.say, name, _ZONE_WAYS)


def _sentences(grammar: Grammar) -> tuple[Section, ...]:
    """Whole sentences about places of this very map, from front to back."""
    pairs = [zone for zone in grammar.zone_map.zones.values() if zone.layout is Layout.PAIR]
    if not pairs:
        return ()
    step = max(1, len(pairs) // len(EXAMPLES))
    places = (_spoken_title(pairs[at * step % len(pairs)]) for at in range(len(EXAMPLES)))
    said = (Said(text.format(place)) for text, place in zip(EXAMPLES, places, strict=True))
    return (Section("Whole sentences", tuple(said)),)


def _by_meaning(vocabulary: Vocabulary) -> Mapping[_Meaning, list[str]]:
    """What people say for each meaning; what settles further slots comes last."""
    spoken: dict[_Meaning, list[str]] = {}
    for phrase in sorted(vocabulary.phrases, key=lambda one: bool(one.also)):
        if not phrase.misheard:
            spoken.setdefault((phrase.slot, phrase.value), []).append(phrase.text)
    return spoken


def _chosen() -> _Chosen:
    """The ways that were chosen by hand, by slot and value."""
    return tomllib.loads((files("voicelog") / "guide/spoken-words.toml").read_text("utf-8"))


def _places(grammar: Grammar) -> tuple[Said, ...]:
    """Each place by its title, or by its first spoken name where nobody says the title."""
    told = map(place_ways, grammar.zone_map.zones.values())
    return tuple(Said(name, tuple(ways)) for name, *ways in told)


def _spoken_title(zone: Zone) -> str:
    title = zone.title.lower().replace("-", " ")
    return title if title in zone.say or not zone.say else zone.say[0]


def _rows(
    spoken: Mapping[_Meaning, list[str]], chosen: _Chosen, slot: str, values: Iterable[str]
) -> tuple[Said, ...]:
    """Each value that can be said, with its ways."""
    told = [_ways(spoken, chosen, slot, value) for value in values]
    return tuple(Said(name, ways) for name, *more in told if name for ways in [tuple(more)])


def _ways(
    spoken: Mapping[_Meaning, list[str]], chosen: _Chosen, slot: str, value: str
) -> tuple[str, ...]:
    """The name that people say, and other ways; an empty one where it cannot be said."""
    known, name = spoken.get((slot, value), []), value_title(slot, value)
    wanted = chosen.get(slot, {}).get(value, ("",))
    ways = [way for way in wanted if way in known]
    if wanted and not ways:
        ways = [*(differing(known, name, _WAYS - 1) or known[:1])]
    first = [name] if name in known else []
    return tuple(dict.fromkeys((*first, *ways)))[: _WAYS + 1] or ("",)


def _faces(spoken: Mapping[_Meaning, list[str]], chosen: _Chosen) -> tuple[Said, ...]:
    slots = (("side", SIDES), ("face", FACES), ("part", PARTS))
    return tuple(row for slot, values in slots for row in _rows(spoken, chosen, slot, values))


def _steering(spoken: Mapping[_Meaning, list[str]], chosen: _Chosen) -> tuple[Said, ...]:
    """What to say, then what it does: here the words come first."""
    found = ((_ways(spoken, chosen, "act", act), does) for act, does in DOES.items())
    return tuple(Said(_as_written(ways[0]), (does,)) for ways, does in found if ways[0])


def _as_written(words: str) -> str:
    """Phrases are kept in small letters; the one word that is not written so is "I"."""
    return words.replace("i ", "I ", 1) if words.startswith("i ") else words


def _wake(spoken: Mapping[_Meaning, list[str]]) -> str:
    names = spoken.get(("attention", "attention"), [])
    return f'In front of "go ahead" say "{min(names, key=len)}".' if names else ""


def differing(texts: Sequence[str], name: str, most: int) -> tuple[str, ...]:
    """Short ways that share no word with the name or with one another, in the order of the file.

    Args:
        texts: all ways.
        name: stands beside them.
        most: ways to give.
    """
    used, found = _stems(name), list[str]()
    for text in sorted(texts, key=lambda one: len(one.split()) > 2):
        fits = _SHORTEST <= len(text) <= _LONGEST and not _stems(text) & used
        if fits and len(found) < most:
            found.append(text)
            used |= _stems(text)
    return tuple(found)


def _stems(text: str) -> set[str]:
    """What two ways may not share: beginnings of words, and of the whole without its gaps."""
    return {word[:_STEM] for word in (*text.split(), text.replace(" ", ""))}
