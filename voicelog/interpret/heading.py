"""What an utterance says of the vehicle as a whole, as one remark beside whatever else it says."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from voicelog.domain.reading import Act, Statement, Vocabulary
from voicelog.domain.slot import SlotValue
from voicelog.domain.vehicle import VEHICLE
from voicelog.interpret.cover import Item
from voicelog.interpret.tokens import Token
from voicelog.interpret.vehicle_words import Clause, VehicleWords

_CORRECTS = (("act", "correction"), ("act", "amend"), ("repair", "repair"))
"""What makes it a correction."""
_OPENS = (*_CORRECTS, ("act", "next"), ("attention", "attention"))
"""What may stand before it."""


@dataclass(frozen=True, slots=True)
class Heading:
    """What a run of items says of the vehicle.

    Args:
        said: the remark.
        rest: the items that say something else.
        sure: it can be nothing else; otherwise it depends on where the inspector is.
    """

    said: Statement
    rest: tuple[Item, ...]
    sure: bool

    def beside(self, otherwise: Sequence[Statement]) -> Statement:
        """The remark, with what the same words mean where the inspector is at a place.

        Args:
            otherwise: what they mean without it.
        """
        place = any("zone" in statement.slots for statement in otherwise)
        open_to_both = not self.sure or place
        plain = (Statement(Act.REMARK, text=self.said.text),)
        return replace(self.said, at_place=tuple(otherwise) or plain) if open_to_both else self.said


class Headings:
    """Finds it, with the words of one vocabulary.

    Args:
        vocabulary: its ``header`` is used.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._words = VehicleWords(vocabulary)

    def within(self, run: Sequence[Item], tokens: Sequence[Token]) -> Heading | None:
        """What is said of the vehicle there; None where nothing is.

        The whole of it must be of the vehicle; an odometer or an inspector that is named may also
        stand beside something else, as a clause of its own.

        Args:
            run: items of one part of an utterance.
            tokens: of the whole utterance.
        """
        if not self._words or not run:
            return None
        opening = _opening(run)
        body = run[opening:]
        if not body or any(_asks(item) for item in body):
            return None
        spans = list(_clauses(tokens, body[0].start, body[-1].end))
        words = [token.text for token in tokens]
        found = [self._words.clause(words, start, end) for start, end in spans]
        clauses = [clause for clause in found if clause is not None]
        if len(clauses) == len(found) and any(clause.telling for clause in clauses):
            return _heading(clauses, run[:opening], (), tokens)
        apart = [c for c in clauses if c.stands_alone and _fits(c, body)]
        rest = [item for item in run if not any(_inside(item, clause) for clause in apart)]
        return _heading(apart, (), rest, tokens) if apart else None


def _heading(
    clauses: Sequence[Clause],
    opening: Sequence[Item],
    rest: Sequence[Item],
    tokens: Sequence[Token],
) -> Heading | None:
    """One remark of all these clauses; None where a surface is named without whose it is."""
    whole = any("vehicle" in clause.values("vehicle") for clause in clauses)
    surface = any(clause.values("surface") for clause in clauses)
    if surface and not any(clause.values("vehicle") for clause in clauses):
        return None
    spoken = [token for c in clauses for token in tokens[c.start : c.end]]
    said = Statement(
        Act.CORRECTION if any(_kind(item) in _CORRECTS for item in opening) else Act.REMARK,
        _slots(clauses),
        " ".join(token.heard or token.text for token in spoken),
        tags=tuple(dict.fromkeys((VEHICLE, *_tags(clauses)))),
    )
    maybe = any("not-possible" in clause.values("refusal") for clause in clauses)
    return Heading(said, tuple(rest), whole or not (surface or maybe))


def _slots(clauses: Sequence[Clause]) -> dict[str, SlotValue]:
    """The reading and the name, the last of each."""
    slots: dict[str, SlotValue] = {}
    for clause in clauses:
        told = {"odometer": clause.odometer, "inspector": clause.name}
        slots |= {name: value for name, value in told.items() if value}
    return slots


def _tags(clauses: Sequence[Clause]) -> Iterator[str]:
    """``odometer``, ``inspector``, ``stood-lift``, ``surface-wet``, ``refused-scraping``."""
    for clause in clauses:
        yield from ["odometer"] * bool(clause.odometer) + ["inspector"] * bool(clause.name)
        yield from (f"stood-{value}" for value in clause.values("standing"))
        yield from (f"surface-{value}" for value in clause.values("surface"))
        yield from (f"refused-{value}" for value in clause.refused)


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


def _inside(item: Item, clause: Clause) -> bool:
    return clause.start <= item.start and item.end <= clause.end


def _fits(clause: Clause, items: Sequence[Item]) -> bool:
    """No item lies half inside it."""
    touching = (i for i in items if i.start < clause.end and i.end > clause.start)
    return all(_inside(item, clause) for item in touching)
