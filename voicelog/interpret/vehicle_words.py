"""One clause about the vehicle as a whole: odometer, how it stands, its surface, refusals, inspector.

Every word of it must be explained by the very phrases of :data:`voicelog.domain.reading.HEADER`, by a
number or by a name: a clause with any other word in it is none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from voicelog.domain.reading import Vocabulary
from voicelog.domain.vehicle import KM_OF, REFUSED, told_odometer
from voicelog.interpret.mileage import reading_at

_LEAST_BARE = 1000
"""Kilometres or miles that are an odometer's though nobody said so: less is a distance."""
_LONGEST_NAME = 4
"""Words of an inspector's name."""


@dataclass(slots=True)
class Clause:
    """What a clause says, as its words come.

    Args:
        start: index of its first token.
        end: index after its last one.
        said: values by word class, in the order in which they were said.
        value: the number of an odometer.
        name: of the inspector.
    """

    start: int
    end: int
    said: dict[str, list[str]] = field(default_factory=dict)
    value: float | None = None
    name: str = ""

    def values(self, name: str) -> list[str]:
        """What was said of one word class."""
        return self.said.get(name, [])

    @property
    def unit(self) -> str:
        """The odometer's, empty where it was not said."""
        return next((value for value in self.values("mileage") if value in KM_OF), "")

    @property
    def odometer(self) -> str:
        """The reading as it is kept; the unit alone where only that was said."""
        return self.unit if self.value is None else told_odometer(self.value, self.unit)

    @property
    def refused(self) -> list[str]:
        """What could not be done, where somebody or something forbids it."""
        what = [value for value in self.values("refusal") if value in REFUSED]
        return what if len(what) < len(self.values("refusal")) else []

    @property
    def stands_alone(self) -> bool:
        """True where it can be nothing else, whatever is said beside it."""
        return bool(self.name) or ("odometer" in self.values("mileage") and self.value is not None)

    @property
    def telling(self) -> bool:
        """True where it says anything."""
        told = self.values("standing") or self.values("surface") or self.refused
        return bool(told or self.name or self.odometer)

    @property
    def consistent(self) -> bool:
        """True where everything that was begun was also said."""
        leads = "odometer" in self.values("mileage")
        bare = self.value is not None and not leads
        far = (self.value or 0) >= _LEAST_BARE and bool(self.unit)
        return (
            not (leads and not self.odometer)
            and not (bare and not far)
            and bool(self.refused) == bool(self.values("refusal"))
            and bool(self.name) == bool(self.values("inspected"))
        )


class VehicleWords:
    """The phrases of one vocabulary that are said of the vehicle as a whole.

    Args:
        vocabulary: its ``header`` is used.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._known = {
            tuple(phrase.text.replace("-", " ").split()): (phrase.slot, phrase.value)
            for phrase in vocabulary.header
        }
        self._longest = max(map(len, self._known), default=0)

    def __bool__(self) -> bool:
        return bool(self._known)

    def clause(self, words: Sequence[str], start: int, end: int) -> Clause | None:
        """What the words say; None where any of them says something else.

        Args:
            words: of the whole utterance.
            start: index of the clause's first word.
            end: index after its last one.
        """
        clause, at, own = Clause(start, end), start, words[:end]
        while at < end:
            at = self._step(clause, own, at)
            if at < 0:
                return None
        return clause if clause.consistent else None

    def _step(self, clause: Clause, words: Sequence[str], at: int) -> int:
        """The index after what is said there; below 0 where that is not known."""
        length, slot, value = self._phrase(words, at)
        number = reading_at(words, at) if length < 2 and clause.value is None else None
        if number is not None and (slot in ("", "vehicle") and _counts(words, at, clause)):
            clause.value = number.value
            return number.end
        if not length or (slot, value) == ("inspected", "no-name"):
            return -1
        clause.said.setdefault(slot, []).append(value)
        if slot != "inspected":
            return at + length
        clause.name = self._name(words[at + length :])
        return len(words)

    def _phrase(self, words: Sequence[str], at: int) -> tuple[int, str, str]:
        """Length, word class and value of the longest phrase there."""
        for length in range(min(self._longest, len(words) - at), 0, -1):
            found = self._known.get(tuple(words[at : at + length]))
            if found is not None:
                return length, *found
        return 0, "", ""

    def _name(self, words: Sequence[str]) -> str:
        """All that follows, as a name; empty where it can be none."""
        kept = list(words)
        while kept and self._known.get((kept[-1],)) == ("vehicle", "around"):
            kept.pop()
        strange = all(word not in self._not_names and word.isalpha() for word in _plain(kept))
        fits = 0 < len(kept) <= _LONGEST_NAME and strange
        return " ".join(word.capitalize() for word in kept) if fits else ""

    @property
    def _not_names(self) -> frozenset[str]:
        says = (("vehicle", "around"), ("inspected", "no-name"))
        return frozenset(words[0] for words, said in self._known.items() if said in says)


def _plain(words: Sequence[str]) -> list[str]:
    return [word.replace("'", "") for word in words]


def _counts(words: Sequence[str], at: int, clause: Clause) -> bool:
    """ "Oh" and "to" are figures only behind the word for the odometer."""
    named = "odometer" in clause.values("mileage")
    return named or words[at] not in ("oh", "o", "to", "too", "for", "won", "double", "triple")
