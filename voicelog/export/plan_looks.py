"""How places look on the drawing: a colour, a pattern and a letter each, so that none needs another.

Colours, patterns and letters are ours. Every pattern can be told from the others in black and white.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from voicelog.domain.advice import PlaceState

INK = "#14171a"
"""Lines and letters; more than 7:1 on every ground that carries text."""
PAPER = "#ffffff"
FONTS = "Helvetica, Arial, Liberation Sans, DejaVu Sans, DejaVu Sans Mono, sans-serif"
"""No font is loaded: the first that is there, the last but one being what Typst carries."""
CAVITY = "cavity"
"""Name of the sign for a hidden inside that nobody saw."""


@dataclass(frozen=True, slots=True)
class Look:
    """How one kind of place is drawn.

    Args:
        letter: in the middle of it; empty for none.
        fill: of its ground.
        lines: what is drawn over the ground, in a tile; empty for none.
        tile: width and height of the tile, in the drawing's units.
        turn: by how many degrees the tile is turned.
    """

    letter: str
    fill: str
    lines: str = ""
    tile: float = 6
    turn: int = 0


def _stroke(colour: str, width: float, tile: float = 6) -> str:
    return f'<rect width="{tile:g}" height="{width:g}" fill="{colour}"/>'


LOOKS: Mapping[str, Look] = {
    "unsafe": Look("U", "#8e1023"),
    "repair": Look("R", "#f3a64f", _stroke("#6e3200", 2.4), turn=45),
    "treat": Look("T", "#f8e391", '<circle cx="2.5" cy="2.5" r="1.15" fill="#5c4700"/>', 5),
    "cosmetic": Look("C", "#d5e7f6", _stroke("#1f5582", 0.8, 4), 4),
    "clear": Look("N", PAPER),
    "unseen": Look("", "#f3f3f1", _stroke("#5a5f63", 0.8), turn=-45),
    "refused": Look("X", "#f3f3f1", _stroke("#5a5f63", 0.8) + '<rect width=".8" height="6" fill="#5a5f63"/>', turn=45),
}  # fmt: skip
"""Grades and what else a place can be, by name."""


def look_of(state: PlaceState) -> str:
    """The name of the look that a place has; what was found counts before what was not seen."""
    if state.grade is not None:
        return str(state.grade)
    if state.seen.looked:
        return "clear"
    return "refused" if state.refused else "unseen"


def letter_of(state: PlaceState) -> str:
    """Its letter; with a question mark where the metal was not reached, so that it may be worse."""
    letter = LOOKS[look_of(state)].letter
    return f"{letter}?" if letter and state.grade is not None and state.unproven else letter


def paint(look: str, prefix: str) -> str:
    """What fills a shape with a look: its pattern, or its ground where it has none."""
    return f"url(#{prefix}{look})" if LOOKS[look].lines else LOOKS[look].fill


def pattern_defs(prefix: str, looks: Iterable[str] = LOOKS) -> str:
    """The patterns, their ids beginning with ``prefix``, which has to be unique in a page."""
    return "".join(_pattern(f"{prefix}{name}", LOOKS[name]) for name in looks if LOOKS[name].lines)


def _pattern(name: str, look: Look) -> str:
    size = f'width="{look.tile:g}" height="{look.tile:g}"'
    turn = f' patternTransform="rotate({look.turn})"' if look.turn else ""
    return (
        f'<pattern id="{name}" {size} patternUnits="userSpaceOnUse"{turn}>'
        f'<rect {size} fill="{look.fill}"/>{look.lines}</pattern>'
    )


def chip(x: float, y: float, letter: str) -> str:
    """A letter on white, so that it can be read on every pattern; x and y are its middle."""
    wide = 11.5 if len(letter) == 1 else 17
    return (
        f'<rect x="{x - wide / 2:.1f}" y="{y - 5.75:.1f}" width="{wide:g}" height="11.5" rx="2.5" '
        f'fill="{PAPER}" stroke="{INK}" stroke-width=".6"/>'
        f'<text x="{x:.1f}" y="{y + 3.6:.1f}" font-size="10" font-weight="700" '
        f'text-anchor="middle" fill="{INK}">{letter}</text>'
    )


def cavity_sign(x: float, y: float) -> str:
    """A diamond with a dot: an inside that nobody saw; x and y are its middle."""
    return (
        f'<path d="M{x:.1f} {y - 6:.1f}l6 6-6 6-6-6z" fill="{PAPER}" stroke="{INK}" '
        f'stroke-width="1.5"/><circle cx="{x:.1f}" cy="{y:.1f}" r="1.6" fill="{INK}"/>'
    )


def swatch_svg(look: str, prefix: str = "key-") -> str:
    """A piece of the drawing for its key.

    Args:
        look: the pattern's name, as a key's row has it: one of :data:`LOOKS`, ``cavity``,
            ``unproven`` or ``touched``; any other is an empty box.
        prefix: begins the ids in it; unique in a page that holds several drawings.

    Returns:
        An SVG element of 30 by 16 units that needs nothing outside itself.
    """
    head = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 30 16" width="30" height="16" '
    return f'{head}aria-hidden="true" font-family="{FONTS}">{_swatch(look, prefix)}</svg>'


def _swatch(look: str, prefix: str) -> str:
    if look == CAVITY:
        return cavity_sign(15, 8)
    if look == "touched":
        return _frame(3, "3.5", "1.5", PAPER)
    if look == "unproven":
        return _frame(1, ".75", ".75", PAPER) + chip(15, 8, "?")
    shape = LOOKS.get(look, LOOKS["clear"])
    letter = shape.letter if look in LOOKS else ""
    dash = ' stroke-dasharray="3 2"' if look in ("unseen", "refused") else ""
    fill = paint(look, prefix) if look in LOOKS else PAPER
    defs = f"<defs>{pattern_defs(prefix, (look,) if look in LOOKS else ())}</defs>"
    return f"{defs}{_frame(1, '.75', '.75', fill, dash)}{chip(15, 8, letter) if letter else ''}"


def _frame(width: int, x: str, y: str, fill: str, dash: str = "") -> str:
    across, down = 30 - 2 * float(x), 16 - 2 * float(y)
    return (
        f'<rect x="{x}" y="{y}" width="{across:g}" height="{down:g}" stroke="{INK}" '
        f'stroke-width="{width}"{dash} fill="{fill}"/>'
    )
