"""What an utterance says of the vehicle as a whole, made one remark of its clauses."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import SlotValue
from voicelog.domain.vehicle import REFUSED, VEHICLE, told_odometer
from voicelog.interpret.cover import Item
from voicelog.interpret.tokens import Token
from voicelog.interpret.vehicle_clause import Clause


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


def heading_of(
    clauses: Sequence[Clause],
    rest: Sequence[Item],
    tokens: Sequence[Token],
    *,
    corrects: bool = False,
    here: bool = False,
) -> Heading | None:
    """One remark of all these clauses; None where a surface is named without whose it is.

    Args:
        clauses: in order; at least one.
        rest: what stands beside them.
        tokens: of the whole utterance.
        corrects: something said before is put right.
        here: they are not of the vehicle but of one place.
    """
    surface = any(clause.values("surface") for clause in clauses)
    if surface and not any(clause.values("vehicle") for clause in clauses):
        return None
    spoken = [token for c in clauses for token in tokens[c.start : c.end]]
    text = " ".join(token.heard or token.text for token in spoken)
    if here:
        return Heading(Statement(Act.REMARK, text=text), tuple(rest), sure=True)
    said = Statement(
        Act.CORRECTION if corrects else Act.REMARK,
        _slots(clauses),
        text,
        tags=tuple(dict.fromkeys((VEHICLE, *_tags(clauses)))),
    )
    return Heading(said, tuple(rest), _sure(clauses))


def _sure(clauses: Sequence[Clause]) -> bool:
    """True where it is of the vehicle wherever the inspector is."""
    surface = any(clause.values("surface") for clause in clauses)
    refusals = [value for clause in clauses for value in clause.values("refusal")]
    maybe = "not-possible" in refusals and "not-allowed" not in refusals
    return any(clause.whole for clause in clauses) or not (surface or maybe)


def _slots(clauses: Sequence[Clause]) -> dict[str, SlotValue]:
    """The reading and the name, the last of each; a unit may come in a clause of its own."""
    values = [clause.value for clause in clauses if clause.value is not None]
    unit = "".join([clause.unit for clause in clauses if clause.unit][-1:])
    told = {
        "odometer": told_odometer(values[-1], unit) if values else unit,
        "inspector": "".join([clause.name for clause in clauses if clause.name][-1:]),
    }
    return {name: value for name, value in told.items() if value}


def _tags(clauses: Sequence[Clause]) -> Iterator[str]:
    """``odometer``, ``inspector``, ``stood-lift``, ``surface-wet``, ``refused-scraping``."""
    forbidden = any(clause.refused for clause in clauses)
    for clause in clauses:
        yield from ["odometer"] * bool(clause.unit or clause.value is not None)
        yield from ["inspector"] * bool(clause.name)
        yield from (f"stood-{value}" for value in clause.values("standing"))
        yield from (f"surface-{value}" for value in clause.values("surface"))
        named = (value for value in clause.values("refusal") if value in REFUSED)
        yield from (f"refused-{value}" for value in named if forbidden)
