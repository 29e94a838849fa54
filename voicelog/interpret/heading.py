"""Finds what an utterance says of the vehicle as a whole beside whatever else it says."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from voicelog.domain.reading import Vocabulary
from voicelog.interpret.cover import Item
from voicelog.interpret.everyday import is_everyday
from voicelog.interpret.tokens import Token
from voicelog.interpret.vehicle_clause import Clause
from voicelog.interpret.vehicle_remark import Heading, heading_of
from voicelog.interpret.vehicle_words import VehicleWords

_CORRECTS = (("act", "correction"), ("act", "amend"), ("repair", "repair"))
"""What makes it a correction."""
_OPENS = (*_CORRECTS, ("act", "next"), ("attention", "attention"))
"""What may stand before it."""


class Headings:
    """Finds it, with the words of one vocabulary.

    Args:
        vocabulary: its ``header`` is used.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._words = VehicleWords(vocabulary)

    def within(self, run: Sequence[Item], tokens: Sequence[Token]) -> Heading | None:
        """What is said of the vehicle there; None where nothing is.

        The whole of it must be of the vehicle; what can be of nothing else may also stand beside
        something else, as a clause of its own.

        Args:
            run: items of one part of an utterance.
            tokens: of the whole utterance.
        """
        words = [token.text for token in tokens]
        if not run or not self._words.may_tell(words):
            return None
        opening = _opening(run)
        body = run[opening:]
        if not body or any(_asks(item) for item in body):
            return None
        spans = list(_clauses(tokens, body[0].start, body[-1].end))
        found = [self._clause(words, *span) for span in spans]
        clauses = [clause for clause in found if clause is not None]
        if len(clauses) == len(found) and _complete(clauses):
            corrects = any(_kind(item) in _CORRECTS for item in run[:opening])
            return heading_of(clauses, (), tokens, corrects=corrects)
        own = [c for c in clauses if c.stands_alone] or [*self._readings(words, spans)]
        apart = [clause for clause in own or _here(run, clauses) if _fits(clause, run)]
        return heading_of(apart, _without(run, apart), tokens, here=not own) if apart else None

    def _clause(self, words: Sequence[str], start: int, end: int) -> Clause | None:
        """What the words say; None also where the name is an everyday word ("inspector is hungry")."""
        clause = self._words.clause(words, start, end)
        lone = clause is not None and is_everyday(clause.name.lower().split())
        return None if lone else clause

    def _readings(self, words: Sequence[str], spans: Sequence[tuple[int, int]]) -> Iterator[Clause]:
        """Readings that an ear without punctuation has put between other words."""
        found = (self._words.reading(words, *span) for span in spans)
        return (clause for clause in found if clause is not None)


def _complete(clauses: Sequence[Clause]) -> bool:
    """They tell something, and whatever is forbidden is named somewhere among them."""
    half = any(clause.half for clause in clauses)
    telling = any(clause.telling for clause in clauses)
    return telling and not (half and not any(clause.refused for clause in clauses))


def _here(run: Sequence[Item], clauses: Sequence[Clause]) -> list[Clause]:
    """What cannot be done at the place that is named beside it ("left sill, can't scrape it")."""
    placed = any(item.slot in ("zone", "family") for item in run)
    return [c for c in clauses if placed and c.refused and "no" not in c.values("refusal")]


def _opening(run: Sequence[Item]) -> int:
    """How many items only say that something is put right, or that the next thing comes."""
    return next((at for at, item in enumerate(run) if _kind(item) not in _OPENS), len(run))


def _asks(item: Item) -> bool:
    """ "Is it on the lift": asked or supposed, and said of nothing."""
    return item.slot in ("question", "hypothetical") or item.stop == "?"


def _kind(item: Item) -> tuple[str, str]:
    """Word class and value; "no," is a repair."""
    no = item.slot == "negation" and item.value == "no" and bool(item.stop)
    return ("repair", "repair") if no else (item.slot, item.value)


def _clauses(tokens: Sequence[Token], start: int, end: int) -> Iterator[tuple[int, int]]:
    """First index, and index after the last one, of what lies between two stops."""
    for at in range(start, end):
        if tokens[at].stop or at == end - 1:
            yield start, at + 1
            start = at + 1


def _without(run: Sequence[Item], clauses: Sequence[Clause]) -> list[Item]:
    return [item for item in run if not any(_inside(item, clause) for clause in clauses)]


def _inside(item: Item, clause: Clause) -> bool:
    return clause.start <= item.start and item.end <= clause.end


def _fits(clause: Clause, items: Sequence[Item]) -> bool:
    """No item lies half inside it."""
    touching = (i for i in items if i.start < clause.end and i.end > clause.start)
    return all(_inside(item, clause) for item in touching)
