"""One clause about the vehicle as a whole: odometer, how it stands, its surface, refusals, inspector.

Every word of it must be explained by the very phrases of :data:`voicelog.domain.reading.HEADER`, by a
number or by a name: a clause with any other word in it is none.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from voicelog.domain.reading import Vocabulary
from voicelog.domain.vehicle import REFUSED
from voicelog.interpret.mileage import reading_at
from voicelog.interpret.numbers import number_at
from voicelog.interpret.vehicle_clause import Clause

_LONGEST_NAME = 4
"""Words of an inspector's name."""
_FARTHEST = 12
"""Words between the word for an odometer and either end of what is said of it; a number said digit
by digit, its unit and a filler or two."""
_ODOMETER = ("mileage", "odometer")
_AROUND = ("vehicle", "around")
_NO_NAME = ("inspected", "no-name")
_THINGS = (("vehicle", "vehicle"), _ODOMETER, ("inspected", "inspector"))
"""What may be followed by an "is" that is written as part of it: "the truck's", "odometer's"."""


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
        self._longest: dict[str, int] = {}  # words of a phrase, by the first of them
        for words in self._known:
            self._longest[words[0]] = max(len(words), self._longest.get(words[0], 0))
        self._leads = self._weightiest(lambda said: said == _ODOMETER)
        self._telling = self._weightiest(_tells)

    def _weightiest(self, wanted: Callable[[tuple[str, str]], bool]) -> frozenset[str]:
        """A word of each phrase by which it is looked for: "clock", not "the"; also as "clock's"."""
        phrases = (words for words, said in self._known.items() if wanted(said))
        found = [max(reversed(words), key=len) for words in phrases]
        return frozenset((*found, *(f"{word}'s" for word in found)))

    def may_tell(self, words: Sequence[str]) -> bool:
        """False where nothing of the vehicle can be said in them: a first look that costs nothing."""
        return not self._telling.isdisjoint(words)

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

    def reading(self, words: Sequence[str], start: int, end: int) -> Clause | None:
        """What an odometer shows, said among other words without a stop; None where it is not said.

        Args:
            words: of the whole utterance.
            start: index of the first word to be searched.
            end: index after the last one.
        """
        if self._leads.isdisjoint(words[start:end]):
            return None
        leads = (at for at in range(start, end) if self._phrase(words[:end], at)[1:] == _ODOMETER)
        lead = next(leads, end)
        first, last = max(start, lead - _FARTHEST), min(end, lead + _FARTHEST)
        spans = ((at, to) for at in range(first, lead + 1) for to in range(last, lead, -1))
        found = (self.clause(words, at, to) for at, to in spans)
        return next((c for c in found if c is not None and c.reads and _ends(words, c)), None)

    def _step(self, clause: Clause, words: Sequence[str], at: int) -> int:
        """The index after what is said there; below 0 where that is not known."""
        length, slot, value = self._phrase(words, at)
        may_count = length < 2 and slot in ("", "vehicle") and clause.value is None
        number = reading_at(words, at) if may_count and _counts(words, at, clause) else None
        if number is not None:
            clause.value = number.value
            return number.end
        if not length or (slot, value) == _NO_NAME:
            return -1
        clause.said.setdefault(slot, []).append(value)
        if slot != "inspected":
            return at + length
        clause.name = self._name(words[at + length :])
        return len(words)

    def _phrase(self, words: Sequence[str], at: int) -> tuple[int, str, str]:
        """Length, word class and value of the longest phrase there."""
        longest = self._longest.get(words[at]) or self._longest.get(words[at].removesuffix("'s"), 0)
        for length in range(min(longest, len(words) - at), 0, -1):
            found = self._meant(words[at : at + length])
            if found is not None:
                return length, *found
        return 0, "", ""

    def _meant(self, words: Sequence[str]) -> tuple[str, str] | None:
        """What just these words are; "the truck's" is the truck, as it is somewhere, or something."""
        found = self._known.get(tuple(words))
        if found is None and words[-1].endswith("'s"):
            found = self._known.get((*words[:-1], words[-1].removesuffix("'s")))
            return found if found in _THINGS else None
        return found

    def _name(self, words: Sequence[str]) -> str:
        """All that follows, as a name; empty where it can be none."""
        kept = list(words)
        while cut := self._around_at_end(kept):
            del kept[-cut:]
        strange = all(word not in self._not_names and word.isalpha() for word in _plain(kept))
        fits = 0 < len(kept) <= _LONGEST_NAME and strange
        return " ".join(word.capitalize() for word in kept) if fits else ""

    def _around_at_end(self, words: Sequence[str]) -> int:
        """How many words at the end say nothing ("for the record"): the longest of such phrases."""
        lengths = range(len(words), 0, -1)
        return next((n for n in lengths if self._known.get(tuple(words[-n:])) == _AROUND), 0)

    @property
    def _not_names(self) -> frozenset[str]:
        says = (_AROUND, _NO_NAME, ("vehicle", "owner"))
        return frozenset(words[0] for words, said in self._known.items() if said in says)


def _tells(said: tuple[str, str]) -> bool:
    """True where a remark about the vehicle may rest on it: not who refuses, but what is refused."""
    slot, value = said
    return slot != "vehicle" and (slot != "refusal" or value in REFUSED) and value != "no-name"


def _ends(words: Sequence[str], clause: Clause) -> bool:
    """True where the number of a reading does not go on behind it."""
    return bool(clause.unit) or reading_at(words, clause.end) is None


def _plain(words: Sequence[str]) -> list[str]:
    return [word.replace("'", "") for word in words]


def _counts(words: Sequence[str], at: int, clause: Clause) -> bool:
    """ "Oh" and "to" are figures only behind the word for the odometer."""
    if "odometer" in clause.values("mileage"):
        return True
    return words[at] not in ("to", "too", "for", "won") and number_at(words, at) is not None
