"""Drawing the sentences of a recording sheet, each with the entries that must come of it.

A sentence is a plan (place, fault; place, fault, test; …) filled with parts of the grammar in force. What
must come of it follows from the parts by a few rules: what stands beside a fault belongs to it; a length
beside a hole, a crack or a soft spot is its size, a share its part of the surface; what is denied is not
there; a test said next belongs to the finding before it; a correction replaces what it names; what is
withdrawn is gone. No sentence is read by the program, or left out because it is read wrongly.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from random import Random

from voicelog import __version__
from voicelog.config.grammar import Grammar
from voicelog.domain.slot import Slots
from voicelog.runtime.sheet_parts import SIDES, Part, Parts, parts_of
from voicelog.runtime.sheet_talk import TALK as LINES
from voicelog.yardstick.sheet import TALK, Item, Sheet

COUNT = 40
"""Sentences of a sheet unless another number is asked for: a quarter of an hour with all pauses."""

MIX: Mapping[str, int] = {
    "plain": 7, "probe": 6, "size": 5, "late": 3, "two": 3, "denied": 3, "clear": 2, "not-seen": 2,
    "correction": 3, "withdrawn": 1, TALK: 5,
}  # fmt: skip
"""Sentences of each kind among forty; ours, weighted to what an inspection mostly says."""

FIRM_UNDER = (
    "staining", "surface-rust", "peeling-coating", "blistering", "chipped-coating", "recoated", "scale",
    "pitting",
)  # fmt: skip
BAD_UNDER = ("scale", "delamination", "pack-rust", "thinning", "pitting", "blistering")
SIZED = ("hole", "crack", "soft-spot")
DENIED = ("hole", "crack", "pitting")
SPREAD = ("surface-rust", "peeling-coating", "blistering", "staining")
"""Conditions over metal that may hold, over metal that may not, with a length, denied, with a share: so that no
sentence contradicts itself."""
BAD = ("soft", "dents", "dull", "moves")
"""Results of a test under which metal does not hold, short of going through it."""
WET, DRY = frozenset(("leak",)), frozenset(("rust-weep",))
"""Conditions of what holds a fluid alone, and of everything else alone: what weeps from a line is a leak."""

Said = tuple[tuple[str, ...], tuple[Slots, ...]]
"""Utterances, and the entries wanted of them."""


def draw_sheet(
    grammar: Grammar,
    *,
    count: int = COUNT,
    seed: int = 1,
    known: frozenset[str] = frozenset(),
    english: bool = True,
) -> Sheet:
    """A sheet; the same words, map, count and seed give the same one.

    Args:
        grammar: in force.
        count: how many sentences.
        seed: draws them.
        known: phrases that are shipped, see :func:`~.sheet_parts.parts_of`.
        english: False where the words are another language's: then there is no talk.
    """
    drawn = _Drawn(parts_of(grammar, known), Random(f"sheet:{seed}"))
    kinds = _kinds(count, english)
    drawn.rng.shuffle(kinds)
    said = [(kind, *drawn.said(kind)) for kind in kinds]
    width = max(2, len(str(count)))
    items = (Item(f"{n:0{width}}", *told) for n, told in enumerate(said, 1))
    before = Item("0", "plain", *drawn.said("plain"))
    return Sheet(grammar.zone_map.id, seed, f"voicelog {__version__}", before, tuple(items))


def _kinds(count: int, english: bool) -> list[str]:
    """So many kinds in the mix's shares: whoever is owed most comes next."""
    mix = {kind: share for kind, share in MIX.items() if english or kind != TALK}
    whole, given = sum(mix.values()), dict.fromkeys(mix, 0)
    for number in range(1, count + 1):
        owed = max(mix, key=lambda kind: mix[kind] * number / whole - given[kind])
        given[owed] += 1
    return [kind for kind, times in given.items() for _ in range(times)]


class _Drawn:
    """Fills plans; every place and every condition comes once before any comes again."""

    def __init__(self, parts: Parts, rng: Random) -> None:
        self.parts, self.rng = parts, rng
        self._zones = [name for name, ways in parts.places.items() if ways]
        self._faults = [name for name, ways in parts.faults.items() if ways]
        self._used: Counter[str] = Counter()

    def said(self, kind: str) -> Said:
        """A sentence of a kind; a plain one where the grammar lacks words for that kind."""
        plans: Mapping[str, Callable[[], Said | None]] = {
            "plain": self._plain, "probe": self._probe, "size": self._size, "late": self._late,
            "two": self._two, "denied": self._denied, "clear": self._clear,
            "not-seen": self._not_seen, "correction": self._correction,
            "withdrawn": self._withdrawn, TALK: self._talk,
        }  # fmt: skip
        return plans[kind]() or self._plain()

    def _plain(self) -> Said:
        place = self._place()
        fault = self._fault(self._faults, place)
        return (_joined(place, fault),), (_finding(place, fault),)

    def _probe(self) -> Said | None:
        made = self._tested()
        return made and ((_joined(*made),), (_finding(*made),))

    def _late(self) -> Said | None:
        """A test in the next breath."""
        made = self._tested()
        return made and ((_joined(*made[:2]), made[2].text), (_finding(*made),))

    def _size(self) -> Said | None:
        """A length of a hole, or how much of a surface."""
        of_surface = self.rng.random() < 0.25
        slot, amounts, names = (
            ("area_percent", self.parts.shares, SPREAD)
            if of_surface
            else ("size_mm", self.parts.lengths, SIZED)
        )
        place = self._place()
        fault = self._fault(names, place, plainest=True)
        text = self._least(list(amounts))
        size = Part(text, {slot: amounts[text]})
        return (_joined(place, fault, size),), (_finding(place, fault, size),)

    def _two(self) -> Said:
        """Two findings in one breath."""
        first, second = self._place(), self._place()
        faults = self._fault(self._faults, first), self._fault(self._faults, second)
        text = _joined(first, faults[0], second, faults[1])
        return (text,), (_finding(first, faults[0]), _finding(second, faults[1]))

    def _denied(self) -> Said | None:
        """One fault is not there, another is."""
        if not self.parts.acts["no"]:
            return None
        place = self._place()
        absent = self._fault(DENIED, place, plainest=True)
        fault = self._fault(SPREAD, place)
        text = f"{place.text}, {self.parts.acts['no'][0]} {absent.text}, {fault.text}"
        return (text,), (_finding(place, fault),)

    def _clear(self) -> Said | None:
        return self._of_place("clear")

    def _not_seen(self) -> Said | None:
        return self._of_place("not-seen")

    def _of_place(self, kind: str) -> Said | None:
        ways, place = self.parts.acts[kind], self._place()
        if not ways:
            return None
        return (f"{place.text}, {self._least(ways)}",), ({"kind": kind, **place.slots},)

    def _correction(self) -> Said | None:
        """The other side, or another fault."""
        ways, place = self.parts.acts["correction"], self._place()
        if not ways:
            return None
        fault, right = self._fault(SPREAD, place), self._fault(SIZED, place, plainest=True)
        first = _joined(place, fault)
        if place.side and len(self.parts.sides) == len(SIDES) and self.rng.random() < 0.7:
            other = next(side for side in SIDES if side != place.side)
            text, turned = self.parts.sides[other], Part("", {"side": other})
            return (first, f"{ways[0]}, {text}"), (_finding(place, turned, fault),)
        return (first, f"{ways[0]}, {right.text}"), (_finding(place, right),)

    def _withdrawn(self) -> Said | None:
        ways, made = self.parts.acts["disregard"], self._plain()
        return ((*made[0], self._least(ways)), ()) if ways else None

    def _talk(self) -> Said:
        return (self._least(LINES),), ()

    def _tested(self) -> tuple[Part, Part, Part] | None:
        """A place, a fault, and what the metal did."""
        names, results = (BAD_UNDER, BAD) if self.rng.random() < 0.4 else (FIRM_UNDER, ("firm",))
        ways = [way for name in results for way in self.parts.probes[name]]
        if not ways:
            return None
        place = self._place()
        return place, self._fault(names, place), self._least_part(ways)

    def _place(self) -> Part:
        return self._least_part(self.parts.places[self._least(self._zones)])

    def _fault(self, names: Sequence[str], place: Part, *, plainest: bool = False) -> Part:
        """A condition of these that this place can have, in a way that tells of no test."""
        others = DRY if place.slots["zone"] in self.parts.wet else WET
        fit = [name for name in names if name in self._faults and name not in others]
        ways = self.parts.faults[self._least(fit or self._faults)]
        free = [way for way in ways if "probe" not in way.slots] or ways
        return self._least_part(free[:1] if plainest else free)

    def _least_part(self, ways: Sequence[Part]) -> Part:
        by_text = {way.text: way for way in ways}
        mine = [text for text in by_text if text in self.parts.own and not self._used[text]]
        return by_text[self._least(mine or list(by_text))]

    def _least(self, names: Sequence[str]) -> str:
        """Any of those that came least often so far."""
        fewest = min(self._used[name] for name in names)
        chosen = self.rng.choice([name for name in names if self._used[name] == fewest])
        self._used[chosen] += 1
        return chosen


def _joined(*parts: Part) -> str:
    return ", ".join(part.text for part in parts)


def _finding(*parts: Part) -> Slots:
    """One finding with all that its parts settle."""
    return {"kind": "finding", **{n: v for part in parts for n, v in part.slots.items()}}
