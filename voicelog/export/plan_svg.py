"""The vehicle from above: what was found where, and where nobody looked.

Plain SVG that browsers and Typst draw alike: no script, no style sheet, no font of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from html import escape

from voicelog.domain.advice import PlaceState
from voicelog.domain.inert import inert
from voicelog.domain.zone import ZoneMap
from voicelog.export.plan_boxes import (
    ACROSS,
    FOOT,
    LENGTH,
    TOP,
    Box,
    Place,
    boxes_of,
    corner_of,
    margins_of,
    placed,
)
from voicelog.export.plan_callouts import HEIGHT, drawn, leader
from voicelog.export.plan_frame import compass, note_at, notes, outline
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

_PREFIX = "plan-"


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
    length = max(LENGTH, HEIGHT * (1 + max(_most(numbers), 1)))
    boxes = sorted(boxes_of(zone_map, states, length), key=lambda box: -box.width * box.height)
    drawn_places = {box.place for box in boxes}
    margins = tuple(placed(margins_of(boxes, numbers), length))
    foot = tuple(notes(states, drawn_places, numbers, driver_side))
    height = TOP + length + FOOT + 12 * max(len(foot) - 1, 0)
    return "".join(
        (
            _head(height, title, _told(states, cavities_open)),
            outline(length),
            *(_place(box, numbers, cavities_open) for box in boxes),
            *(leader(callout, edge) for callout, edge in margins),
            *(_letter(box) for box in boxes),
            *(cavity_sign(*corner_of(box)) for box in boxes if box.place in cavities_open),
            *(drawn(callout, edge) for callout, edge in margins),
            compass(length, driver_side),
            *(note_at(TOP + length + 26 + 12 * n, line) for n, line in enumerate(foot)),
            "</svg>",
        )
    )


def _most(numbers: Mapping[Place, tuple[int, ...]]) -> int:
    """How many callouts one margin may have to hold."""
    sides = [side for (_, side), found in numbers.items() if found]
    middle = sum(side is None for side in sides)
    return middle + max(sides.count("left"), sides.count("right"))


def _head(height: float, title: str, told: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {ACROSS:g} {height:.0f}" role="img" '
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


def _place(
    box: Box, numbers: Mapping[Place, tuple[int, ...]], cavities_open: AbstractSet[Place]
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


def _letter(box: Box) -> str:
    """Its letter, where there is room: above the lines, which may cross it on their way."""
    letter = letter_of(box.state)
    return chip(*box.middle, letter) if letter and box.width >= 12 and box.height >= 11 else ""


def _hover(
    box: Box, numbers: Mapping[Place, tuple[int, ...]], cavities_open: AbstractSet[Place]
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
