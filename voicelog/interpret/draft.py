"""A draft: the items of one thing said, before its slots are settled."""

from __future__ import annotations

from dataclasses import dataclass, field

from voicelog.domain.reading import Act
from voicelog.interpret.cover import Item


@dataclass(slots=True)
class Draft:
    """One thing said, as it grows.

    Args:
        act: what it does.
        zones: zones and families named, landmarks left out.
        sides: side words in order.
        condition: the condition's item.
        others: face, part, layer, probe, method, surround, grade and the like, last one wins.
        numbers: measures and the labels around them, in order.
        landmarks: (relation, zone or None) in order.
        absent: conditions said not to be there.
        items: everything it was made of.
        place_first: the place was said before the condition.
        denied_good: it was said not to be good.
        contrasted: a number was denied: "eighty, not a hundred".
    """

    act: Act = Act.REPORT
    zones: list[Item] = field(default_factory=list)
    sides: list[Item] = field(default_factory=list)
    condition: Item | None = None
    others: dict[str, Item] = field(default_factory=dict)
    numbers: list[Item] = field(default_factory=list)
    landmarks: list[tuple[Item, Item | None]] = field(default_factory=list)
    absent: list[str] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    clear: bool = False
    approved: bool = False
    by_sight: bool = False
    tentative: bool = False
    past: bool = False
    place_first: bool = False
    shares: bool = False
    denied_good: bool = False
    contrasted: bool = False

    @property
    def placed(self) -> bool:
        """True when it says where."""
        return bool(self.zones or self.sides)

    @property
    def describes(self) -> bool:
        """True when it says how the metal is."""
        return self.condition is not None or self.clear or self.approved or bool(self.absent)

    @property
    def says(self) -> bool:
        """True when it says how the metal is, or how thick."""
        gauged = any(item.slot in ("label", "lead") for item in self.numbers)
        return self.describes or (gauged and any(item.measure for item in self.numbers))

    @property
    def empty(self) -> bool:
        """True when nothing was said yet."""
        return not (
            self.placed or self.describes or self.others or self.numbers or self.landmarks
            or self.act is not Act.REPORT
        )  # fmt: skip
