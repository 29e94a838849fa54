"""What stands round the places of the drawing: the vehicle's outline, its ends and sides, notes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from html import escape

from voicelog.domain.advice import PlaceState
from voicelog.export.plan_boxes import ACROSS, LEFT, RIGHT, TOP, Place
from voicelog.export.plan_looks import INK


def outline(length: float) -> str:
    """The vehicle's outline and its wheels, pale, so that one sees at once what is drawn."""
    left, right, bottom = LEFT - 5, RIGHT + 5, TOP + length + 4
    wheels = "".join(
        f'<rect x="{x:.1f}" y="{TOP + length * y:.1f}" width="15" height="{length * 0.1:.1f}" '
        'rx="5" fill="#c3c8cc"/>'
        for x in (left - 6, right - 9)
        for y in (0.16, 0.7)
    )
    return (
        f"{wheels}"
        f'<path d="M{left:g} {TOP + 44:g}q0-46 46-48h{right - left - 92:g}q46 2 46 48'
        f"V{bottom - 20:.1f}q0 20-20 20H{left + 20:g}q-20 0-20-20z"
        '" fill="#fafaf8" stroke="#8b9298" stroke-width="1.2"/>'
    )


def compass(length: float, driver_side: str | None) -> str:
    """Front, rear, left and right; the driver's side with a steering wheel."""
    middle = ACROSS / 2
    sides = "".join(_side(side, side == driver_side) for side in ("left", "right"))
    return (
        f'<path d="M{middle:g} 4l9 13h-5.5v7h-7v-7h-5.5z" fill="{INK}"/>'
        f"{_text(middle, 34, 'FRONT', 11)}{sides}{_text(middle, TOP + length + 14, 'REAR', 10)}"
    )


def _side(side: str, drives: bool) -> str:
    x, anchor, away = (2, "start", 1) if side == "left" else (ACROSS - 2, "end", -1)
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


def notes(
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


def note_at(y: float, text: str) -> str:
    """One line below the drawing."""
    return f'<text x="2" y="{y:.1f}" font-size="10" fill="{INK}">{escape(text)}</text>'
