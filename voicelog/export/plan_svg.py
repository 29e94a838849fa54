"""The vehicle from above: what was found where, and where nobody looked.

Plain SVG that browsers and Typst draw alike: no script, no style sheet, no font of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from html import escape

from voicelog.domain.advice import PlaceState
from voicelog.domain.inert import inert
from voicelog.domain.zone import Zone, ZoneMap
from voicelog.export.plan_callouts import HEIGHT, WIDTH, Callout, drawn, laid_out, leader
from voicelog.export.plan_looks import (
    FONTS,
    INK,
    cavity_sign,
    chip,
    letter_of,
    look_of,
    paint,
    pattern_defs,
)

Place = tuple[str, str | None]
"""A zone and a side; side None where the zone comes once."""

_WIDTH, _LEFT, _RIGHT, _TOP, _FOOT = 400.0, 76.0, 324.0, 40.0, 34.0
"""Of the drawing, and where the vehicle lies in it."""
_LENGTH = 416.0
"""Of the vehicle, where the callouts need no more."""
_PREFIX = "plan-"


@dataclass(frozen=True, slots=True)
class _Box:
    """One place as it is drawn, in the drawing's units."""

    state: PlaceState
    title: str
    x: float
    y: float
    width: float
    height: float

    @property
    def place(self) -> Place:
        return self.state.zone, self.state.side

    @property
    def middle(self) -> tuple[float, float]:
        return self.x + self.width / 2, self.y + self.height / 2


@dataclass(slots=True)
class _Margins:
    """The callouts of both margins."""

    left: list[Callout] = field(default_factory=list)
    right: list[Callout] = field(default_factory=list)


def plan_svg(
    zone_map: ZoneMap,
    states: Sequence[PlaceState],
    *,
    numbers: Mapping[Place, tuple[int, ...]],
    cavities_open: AbstractSet[Place],
    driver_side: str | None,
    title: str,
) -> str:
    """The drawing of one inspection, front at the top, legible from 92 mm of width upwards.

    Args:
        zone_map: the places, with their ``plan`` boxes; those without one are only counted.
        states: what became of each place.
        numbers: of the findings at a place, the worst first.
        cavities_open: places with a hidden inside that nobody saw.
        driver_side: ``left`` or ``right``; None where nobody said.
        title: what the drawing is of, as text.

    Returns:
        One SVG element with a title and a description; every place has a title of its own.
    """
    length = max(_LENGTH, HEIGHT * (1 + max(_most(numbers), 1)))
    boxes = sorted(_boxes(zone_map, states, length), key=lambda box: -box.width * box.height)
    drawn_places = {box.place for box in boxes}
    margins = tuple(_laid_out(_margins(boxes, numbers), length))
    foot = tuple(_foot(states, drawn_places, numbers, driver_side))
    height = _TOP + length + _FOOT + 12 * max(len(foot) - 1, 0)
    return "".join(
        (
            _head(height, title, _told(states, cavities_open)),
            _body(length),
            *(_place(box, numbers, cavities_open) for box in boxes),
            *(leader(callout, edge) for callout, edge in margins),
            *(_letter(box) for box in boxes),
            *(cavity_sign(*_corner(box)) for box in boxes if box.place in cavities_open),
            *(drawn(callout, edge) for callout, edge in margins),
            _compass(length, driver_side),
            *(_note(_TOP + length + 26 + 12 * n, line) for n, line in enumerate(foot)),
            "</svg>",
        )
    )


def _most(numbers: Mapping[Place, tuple[int, ...]]) -> int:
    """How many callouts one margin may have to hold."""
    sides = [side for (_, side), found in numbers.items() if found]
    middle = sum(side is None for side in sides)
    return middle + max(sides.count("left"), sides.count("right"))


def _boxes(zone_map: ZoneMap, states: Iterable[PlaceState], length: float) -> Iterator[_Box]:
    across, along = (_RIGHT - _LEFT) / 100, length / 100
    for state in states:
        zone = zone_map.zones.get(state.zone)
        if zone is None or zone.plan is None:
            continue
        x, y, width, height = zone.plan
        x = 100 - x - width if state.side == "right" else x
        yield _Box(
            state, _title(zone, state.side),
            _LEFT + x * across, _TOP + y * along, width * across, height * along,
        )  # fmt: skip


def _title(zone: Zone, side: str | None) -> str:
    name = f"{side} {zone.title[:1].lower()}{zone.title[1:]}" if side else zone.title
    return inert(name[:1].upper() + name[1:], 80)


def _head(height: float, title: str, told: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:g} {height:.0f}" role="img" '
        f'aria-labelledby="{_PREFIX}title {_PREFIX}desc" font-family="{FONTS}">'
        f'<title id="{_PREFIX}title">{escape(inert(title, 200))}</title>'
        f'<desc id="{_PREFIX}desc">{escape(told)}</desc><defs>{pattern_defs(_PREFIX)}</defs>'
    )


_TOLD = {
    "unsafe": "unsafe", "repair": "to be repaired", "treat": "to be treated",
    "cosmetic": "cosmetic", "clear": "where nothing was found", "unseen": "nobody looked at",
    "refused": "that could not be looked at",
}  # fmt: skip


def _told(states: Iterable[PlaceState], cavities_open: AbstractSet[Place]) -> str:
    """The drawing in a sentence."""
    looks = [look_of(state) for state in states]
    parts = [f"{looks.count(look)} {told}" for look, told in _TOLD.items() if look in looks]
    hidden = f"; {len(cavities_open)} hidden insides nobody saw" if cavities_open else ""
    return (
        f"The vehicle from above, front at the top. Places: {', '.join(parts) or 'none'}{hidden}."
    )


def _body(length: float) -> str:
    """The vehicle's outline and its wheels, pale, so that one sees at once what is drawn."""
    left, right, bottom = _LEFT - 5, _RIGHT + 5, _TOP + length + 4
    wheels = "".join(
        f'<rect x="{x:.1f}" y="{_TOP + length * y:.1f}" width="15" height="{length * 0.1:.1f}" '
        'rx="5" fill="#c3c8cc"/>'
        for x in (left - 6, right - 9)
        for y in (0.16, 0.7)
    )
    return (
        f"{wheels}"
        f'<path d="M{left:g} {_TOP + 44:g}q0-46 46-48h{right - left - 92:g}q46 2 46 48'
        f"V{bottom - 20:.1f}q0 20-20 20H{left + 20:g}q-20 0-20-20z"
        '" fill="#fafaf8" stroke="#8b9298" stroke-width="1.2"/>'
    )


def _place(
    box: _Box, numbers: Mapping[Place, tuple[int, ...]], cavities_open: AbstractSet[Place]
) -> str:
    """One place with its pattern, and what it says on hovering."""
    state = box.state
    width = 2.0 if state.seen.probed else 0.9
    dash = "" if state.seen.looked else ' stroke-dasharray="3 2"'
    return (
        f"<g><title>{escape(_hover(box, numbers, cavities_open))}</title>"
        f'<rect x="{box.x:.1f}" y="{box.y:.1f}" width="{box.width:.1f}" height="{box.height:.1f}" '
        f'rx="1.5" fill="{paint(look_of(state), _PREFIX)}" stroke="{INK}" '
        f'stroke-width="{width:g}"{dash}/></g>'
    )


def _letter(box: _Box) -> str:
    """Its letter, where there is room: above the lines, which may cross it on their way."""
    letter = letter_of(box.state)
    return chip(*box.middle, letter) if letter and box.width >= 12 and box.height >= 11 else ""


def _hover(
    box: _Box, numbers: Mapping[Place, tuple[int, ...]], cavities_open: AbstractSet[Place]
) -> str:
    state, look = box.state, look_of(box.state)
    found = ", ".join(map(str, numbers.get(box.place, ())))
    parts = [
        look if state.grade is not None else _ELSE[look],
        "metal not reached" if state.grade is not None and state.unproven else "",
        f"findings {found}" if found else "",
        "" if state.seen.probed or not state.seen.looked else "looked at, not touched",
        "nobody saw its inside" if box.place in cavities_open else "",
    ]
    return f"{box.title}: {'; '.join(part for part in parts if part)}"


_ELSE = {
    "clear": "nothing found",
    "unseen": "nobody looked",
    "refused": "could not be looked at",
}


def _corner(box: _Box) -> tuple[float, float]:
    """Where the sign of a hidden inside stands: at the corner nearest to the vehicle's middle."""
    inner = box.x if box.middle[0] > _WIDTH / 2 else box.x + box.width
    return inner, box.y + 2


def _margins(boxes: Iterable[_Box], numbers: Mapping[Place, tuple[int, ...]]) -> _Margins:
    """Callouts by margin; what lies in the middle goes where there is more room."""
    margins = _Margins()
    found = [(box, numbers[box.place]) for box in boxes if numbers.get(box.place)]
    for box, those in sorted(found, key=lambda pair: abs(pair[0].middle[0] - _WIDTH / 2) < 1):
        middle = box.middle[0] - _WIDTH / 2
        right = middle > 1 or (middle >= -1 and len(margins.right) < len(margins.left))
        x = box.x + box.width if right else box.x
        callout = Callout(x, box.middle[1], letter_of(box.state), those, right)
        (margins.right if right else margins.left).append(callout)
    return margins


def _laid_out(margins: _Margins, length: float) -> Iterator[tuple[Callout, float]]:
    """Every callout where it stands, and the edge of it that looks at the vehicle."""
    top, bottom = _TOP + 2, _TOP + length - 2
    yield from ((one, WIDTH + 2) for one in laid_out(margins.left, top, bottom))
    yield from ((one, _WIDTH - WIDTH - 2) for one in laid_out(margins.right, top, bottom))


def _compass(length: float, driver_side: str | None) -> str:
    """Front, rear, left and right; the driver's side with a steering wheel."""
    middle = _WIDTH / 2
    sides = "".join(_side(side, side == driver_side) for side in ("left", "right"))
    return (
        f'<path d="M{middle:g} 4l9 13h-5.5v7h-7v-7h-5.5z" fill="{INK}"/>'
        f"{_text(middle, 34, 'FRONT', 11)}{sides}{_text(middle, _TOP + length + 14, 'REAR', 10)}"
    )


def _side(side: str, drives: bool) -> str:
    x, anchor, away = (2, "start", 1) if side == "left" else (_WIDTH - 2, "end", -1)
    if not drives:
        return _text(x, 20, side.upper(), 11, anchor)
    wheel = x + away * 8
    spokes = f"M{wheel - 7:g} 16h14M{wheel:g} 16v7"
    return (
        f'<g fill="none" stroke="{INK}" stroke-width="2"><circle cx="{wheel:g}" cy="16" r="7"/>'
        f'<path d="{spokes}"/></g>{_text(x + away * 20, 20, side.upper(), 11, anchor)}'
        f"{_text(x, 36, 'driver’s side', 10, anchor)}"
    )


def _text(x: float, y: float, text: str, size: float, anchor: str = "middle") -> str:
    return (
        f'<text x="{x:g}" y="{y:.1f}" font-size="{size:g}" font-weight="700" '
        f'text-anchor="{anchor}" fill="{INK}">{escape(text)}</text>'
    )


def _foot(
    states: Iterable[PlaceState],
    drawn_places: AbstractSet[Place],
    numbers: Mapping[Place, tuple[int, ...]],
    driver_side: str | None,
) -> Iterator[str]:
    """What the drawing does not show, in lines below it."""
    if driver_side not in ("left", "right"):
        yield "On which side the driver sits was not said."
    lost = sorted(
        {n for place, found in numbers.items() if place not in drawn_places for n in found}
    )
    if lost:
        shown = ", ".join(map(str, lost[:12])) + (" …" if len(lost) > 12 else "")
        yield f"Not on the drawing, place or side not known: {shown}"
    blank = sum((state.zone, state.side) not in drawn_places for state in states)
    if blank:
        places = "1 place of this map is" if blank == 1 else f"{blank} places of this map are"
        yield f"{places} not on the drawing."


def _note(y: float, text: str) -> str:
    return f'<text x="2" y="{y:.1f}" font-size="10" fill="{INK}">{escape(text)}</text>'
