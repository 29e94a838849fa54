"""Where places and callouts lie on the drawing, in its own units."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from voicelog.domain.advice import PlaceState
from voicelog.domain.inert import inert
from voicelog.domain.zone import Zone, ZoneMap
from voicelog.export.plan_callouts import WIDTH, Callout, laid_out
from voicelog.export.plan_looks import letter_of

Place = tuple[str, str | None]
"""A zone and a side; side None where the zone comes once."""

ACROSS, LEFT, RIGHT, TOP, FOOT = 400.0, 76.0, 324.0, 40.0, 34.0
"""The drawing's width, where the vehicle lies in it, and the room below."""
LENGTH = 416.0
"""Of the vehicle, where the callouts need no more."""


@dataclass(frozen=True, slots=True)
class Box:
    """One place as it is drawn, in the drawing's units."""

    state: PlaceState
    title: str
    x: float
    y: float
    width: float
    height: float

    @property
    def place(self) -> Place:
        """Which place it is."""
        return self.state.zone, self.state.side

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle, x and y."""
        return self.x + self.width / 2, self.y + self.height / 2


@dataclass(slots=True)
class Margins:
    """The callouts of both margins."""

    left: list[Callout] = field(default_factory=list)
    right: list[Callout] = field(default_factory=list)


def boxes_of(zone_map: ZoneMap, states: Iterable[PlaceState], length: float) -> Iterator[Box]:
    """The places that the map gives a box, of a pair the right one as the mirror of the left.

    Args:
        zone_map: the places, their boxes in percent.
        states: what became of each.
        length: of the vehicle.
    """
    across, along = (RIGHT - LEFT) / 100, length / 100
    for state in states:
        zone = zone_map.zones.get(state.zone)
        if zone is None or zone.plan is None:
            continue
        x, y, width, height = zone.plan
        x = 100 - x - width if state.side == "right" else x
        yield Box(
            state, _title(zone, state.side),
            LEFT + x * across, TOP + y * along, width * across, height * along,
        )  # fmt: skip


def _title(zone: Zone, side: str | None) -> str:
    name = f"{side} {zone.title[:1].lower()}{zone.title[1:]}" if side else zone.title
    return inert(name[:1].upper() + name[1:], 80)


def corner_of(box: Box) -> tuple[float, float]:
    """Where the sign of a hidden inside stands: at the corner nearest to the vehicle's middle."""
    inner = box.x if box.middle[0] > ACROSS / 2 else box.x + box.width
    return inner, box.y + 2


def margins_of(boxes: Iterable[Box], numbers: Mapping[Place, tuple[int, ...]]) -> Margins:
    """Callouts by margin; what lies in the middle goes where there is more room."""
    margins = Margins()
    found = [(box, numbers[box.place]) for box in boxes if numbers.get(box.place)]
    for box, those in sorted(found, key=lambda pair: abs(pair[0].middle[0] - ACROSS / 2) < 1):
        middle = box.middle[0] - ACROSS / 2
        right = middle > 1 or (middle >= -1 and len(margins.right) < len(margins.left))
        x = box.x + box.width if right else box.x
        callout = Callout(x, box.middle[1], letter_of(box.state), those, right)
        (margins.right if right else margins.left).append(callout)
    return margins


def placed(margins: Margins, length: float) -> Iterator[tuple[Callout, float]]:
    """Every callout where it stands, and the edge of it that looks at the vehicle."""
    top, bottom = TOP + 2, TOP + length - 2
    yield from ((one, WIDTH + 2) for one in laid_out(margins.left, top, bottom))
    yield from ((one, ACROSS - WIDTH - 2) for one in laid_out(margins.right, top, bottom))
