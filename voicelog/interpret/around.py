"""A measure with what stands round it, for telling what it measures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from voicelog.domain.slot import SlotValue
from voicelog.interpret.cover import Item
from voicelog.interpret.measures import Measure

_QUIET = ("filler", "unknown", "hedge", "contrast")
"""Words that do not part a number from what it is told by."""
_MOST_COUNTED = 200


@dataclass(frozen=True, slots=True)
class Around:
    """One measure of a draft.

    Args:
        measure: the measure.
        said: every item of the draft.
        flow: the same without quiet words.
        at: the measure's index in ``flow``.
        condition: the draft's condition, if it has one.
        settled: the slots settled so far; it fills while the measures are taken in turn.
    """

    measure: Measure
    said: Sequence[Item]
    flow: Sequence[Item]
    at: int
    condition: str | None
    settled: Mapping[str, SlotValue]

    @property
    def item(self) -> Item:
        """The measure's own item."""
        return self.flow[self.at]

    @property
    def previous(self) -> Item | None:
        """The item before it."""
        return self.flow[self.at - 1] if self.at else None

    @property
    def before(self) -> Item | None:
        """The item before it, unless a stop parts them."""
        return None if self.previous is None or self.previous.stop else self.previous

    @property
    def following(self) -> Item | None:
        """The item after it."""
        return self.flow[self.at + 1] if self.at + 1 < len(self.flow) else None

    @property
    def after(self) -> Item | None:
        """The item after it, unless a stop parts them."""
        return None if self.item.stop else self.following

    @property
    def next_word(self) -> Item | None:
        """The item right after it, quiet or not, unless a stop parts them."""
        if self.item.stop:
            return None
        return next((item for item in self.said if item.start >= self.item.end), None)

    @property
    def is_distance(self) -> bool:
        """ "Six inches from the hanger", not "ninety thou from a hundred and twenty"."""
        following, beyond = self.following, self.flow[self.at + 2 : self.at + 3]
        number = bool(beyond) and beyond[0].measure is not None
        return following is not None and following.slot == "relation" and not number

    @property
    def whole(self) -> bool:
        """True when it can be a count: a bare whole number that is not too large."""
        number = self.measure.number
        bare = self.measure.quantity == "number" and not self.measure.fraction
        return bare and number.denominator == 1 and 1 <= self.measure.value <= _MOST_COUNTED


def measures_of(
    said: Sequence[Item],
    numbers: Sequence[Item],
    condition: str | None,
    settled: Mapping[str, SlotValue],
) -> Iterator[Around]:
    """The measures among ``numbers``, in order; the arguments are those of :class:`Around`."""
    kept = {id(number) for number in numbers}
    flow = [item for item in said if item.slot not in _QUIET or id(item) in kept]
    for at, item in enumerate(flow):
        if item.measure is not None and id(item) in kept:
            yield Around(item.measure, said, flow, at, condition, settled)
