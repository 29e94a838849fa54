"""What the sentences of a recording sheet are put together of: the words in force, and what they settle.

Every way to say a thing is one of the printed page of spoken words, or the shop's own. What a way
settles is what the grammar's files say of it; nothing is read.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from voicelog.config.grammar import Grammar
from voicelog.domain.slot import CONDITIONS, PROBES, Slots
from voicelog.domain.zone import Layout, Role, Zone
from voicelog.runtime.words_page import place_ways, ways_of
from voicelog.yardstick.strict import SCORED

SIDES = ("left", "right")

ENGLISH_LENGTHS: Mapping[str, float] = {
    "ten millimetres": 10.0, "fifteen millimetres": 15.0, "twenty five millimetres": 25.0,
    "eight millimetres": 8.0, "forty millimetres": 40.0, "two inches": 50.8, "half an inch": 12.7,
    "three quarters of an inch": 19.05, "one and a half inches": 38.1, "three inches": 76.2,
}  # fmt: skip
"""Lengths as people say them, and the millimetres in them: 25.4 in an inch (the international yard)."""

ENGLISH_SHARES: Mapping[str, float] = {
    "thirty percent": 30.0, "fifteen percent": 15.0, "sixty percent": 60.0, "eighty percent": 80.0,
}  # fmt: skip

ENGLISH_UNSEEN = ("not seen", "can't get to it", "can't reach it", "couldn't get to it")
"""Ways to say that nobody looked; "inside" is left out: it would say where as well."""

_WET = frozenset((Role.FLUID_LINE, Role.ATTACHED))
"""What can leak."""


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a sentence.

    Args:
        text: its words.
        slots: what it settles, of the slots that are scored.
    """

    text: str
    slots: Slots

    @property
    def side(self) -> str:
        """Left or right; empty for what has no other side."""
        side = str(self.slots.get("side", ""))
        return side if side in SIDES else ""


@dataclass(frozen=True)
class Parts:
    """Everything that a sheet can say, by what it is.

    Args:
        places: ways to say each place by its zone, left and right apart.
        faults: ways to say each condition, the shop's own first.
        probes: ways to say each result of a test, likewise.
        acts: words that steer: ``correction``, ``disregard``, ``not-seen``, ``clear``, ``no``.
        sides: what to say to correct a side.
        lengths: lengths and their millimetres.
        shares: shares and their percentages.
        wet: zones that can leak.
        own: words of the shop's own.
    """

    places: Mapping[str, Sequence[Part]]
    faults: Mapping[str, Sequence[Part]]
    probes: Mapping[str, Sequence[Part]]
    acts: Mapping[str, Sequence[str]]
    sides: Mapping[str, str]
    lengths: Mapping[str, float]
    shares: Mapping[str, float]
    wet: frozenset[str]
    own: frozenset[str]


def parts_of(grammar: Grammar, known: frozenset[str] = frozenset()) -> Parts:
    """What a grammar in force gives.

    Args:
        grammar: words and map.
        known: the phrases that are shipped; any other is the shop's own. Empty where none is.
    """
    spoken = _Spoken(grammar, known)
    zones = grammar.zone_map.zones.values()
    return Parts(
        {zone.id: list(_places(spoken, zone)) for zone in zones},
        {name: spoken.parts("condition", name) for name in CONDITIONS},
        {name: spoken.parts("probe", name) for name in PROBES},
        spoken.acts(),
        {side: said for side in SIDES if (said := spoken.first_of((f"{side} side", side)))},
        spoken.amounts(ENGLISH_LENGTHS, "millimetre"),
        spoken.amounts(ENGLISH_SHARES, "percent"),
        frozenset(zone.id for zone in zones if zone.role in _WET),
        frozenset(spoken.own),
    )


class _Spoken:
    """The phrases of a grammar, by what they mean."""

    def __init__(self, grammar: Grammar, known: frozenset[str]) -> None:
        self.grammar = grammar
        self._phrases = [p for p in grammar.vocabulary.phrases if not p.misheard]
        self.own = {p.text for p in self._phrases} - known if known else set()
        self._by_text = {(p.slot, p.value, p.text): p for p in self._phrases}
        self._ways = ways_of(grammar)

    def parts(self, slot: str, value: str) -> list[Part]:
        """What the page tells people to say, after what the shop has added."""
        of_it = (p.text for p in self._phrases if (p.slot, p.value) == (slot, value))
        mine = [text for text in of_it if text in self.own]
        return list(self.settled(slot, value, dict.fromkeys((*mine, *self._ways(slot, value)))))

    def settled(self, slot: str, value: str, texts: Iterable[str]) -> Iterator[Part]:
        """Those texts that are ways to say it, with what they settle."""
        for text in texts:
            phrase = self._by_text.get((slot, value, text))
            if phrase is not None:
                told = {slot: value, **phrase.also}
                yield Part(text, {name: told[name] for name in told if name in SCORED})

    def acts(self) -> dict[str, Sequence[str]]:
        """What steers; an empty list for what this language has no words for."""
        of_slot = {"correction": "act", "disregard": "act", "clear": "clear"}
        found = {name: self._ways(slot, name) for name, slot in of_slot.items()}
        unseen = [one for one in ENGLISH_UNSEEN if ("act", "not-seen", one) in self._by_text]
        no = [p.text for p in self._phrases if p.slot == "negation" and not p.also]
        return found | {"not-seen": unseen or self._ways("act", "not-seen")[:1], "no": no[:1]}

    def first_of(self, texts: Sequence[str]) -> str:
        """The first text that is a side; else how the language says the last one, if it does."""
        said = (one for one in texts if ("side", texts[-1], one) in self._by_text)
        return next(said, next(iter(self._ways("side", texts[-1])), ""))

    def amounts(self, english: Mapping[str, float], unit: str) -> Mapping[str, float]:
        """Numbers with a unit: in the grammar's own words where it has them, else in English."""
        numerals = self.grammar.vocabulary.numerals
        units = [p.text for p in numerals if (p.slot, p.value) == ("unit", unit)][:1]
        numbers = [
            p for p in numerals if p.slot == "number" and p.value in ("10", "15", "20", "40")
        ]
        own = {f"{number.text} {units[0]}": float(number.value) for number in numbers if units}
        return own or english


def _places(spoken: _Spoken, zone: Zone) -> Iterator[Part]:
    """A place in every way; both sides of what there are two of."""
    sides = SIDES if zone.layout is Layout.PAIR else ("",)
    for name in spoken.settled("zone", zone.id, place_ways(zone)):
        for side in sides:
            said = f"{spoken.first_of((side,))} {name.text}" if side else name.text
            yield Part(said, {**name.slots, **({"side": side} if side else {})})
