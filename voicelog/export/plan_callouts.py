"""Where the numbers of the findings stand beside the drawing, so that none lies on another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from voicelog.export.plan_looks import INK, PAPER, chip

HEIGHT = 13.0
"""Of one callout, with the gap to the next one."""
WIDTH = 68.0
_CHARACTERS = 8
"""Of numbers that fit beside the letter, in the widest of the fonts; a question mark takes one."""


@dataclass(frozen=True, slots=True)
class Callout:
    """The findings of one place, in the margin.

    Args:
        x: where its line ends, at the edge of the place.
        wish: the height at which it would stand best.
        letter: of the place's grade.
        numbers: of its findings.
        right: it stands in the right margin.
        y: the height at which it stands.
    """

    x: float
    wish: float
    letter: str
    numbers: tuple[int, ...]
    right: bool
    y: float = 0.0


def laid_out(callouts: Sequence[Callout], top: float, bottom: float) -> tuple[Callout, ...]:
    """Callouts of one margin, each as near to its place as the others let it, from the top down.

    Args:
        callouts: of one margin, in any order.
        top: where the first may stand at the earliest.
        bottom: where the last may stand; there is room enough for all of them.
    """
    placed: list[Callout] = []
    earliest = top
    for callout in sorted(callouts, key=lambda one: (one.wish, one.numbers)):
        placed.append(replace(callout, y=max(earliest, callout.wish)))
        earliest = placed[-1].y + HEIGHT
    latest = bottom
    for index in reversed(range(len(placed))):
        placed[index] = replace(placed[index], y=min(placed[index].y, latest))
        latest = placed[index].y - HEIGHT
    return tuple(placed)


def shortened(numbers: Sequence[int], room: int = _CHARACTERS) -> str:
    """The numbers as far as they fit into so many characters; what is left out is counted."""
    text = " ".join(map(str, numbers))
    if len(text) <= room:
        return text
    shown = 1
    while len(_cut(numbers, shown + 1)) <= room:
        shown += 1
    return _cut(numbers, shown)


def _cut(numbers: Sequence[int], shown: int) -> str:
    return " ".join([*map(str, numbers[:shown]), f"+{len(numbers) - shown}"])


def leader(callout: Callout, edge: float) -> str:
    """The line from a callout to its place, with a white seam where it crosses others."""
    path = f'd="M{edge:.1f} {callout.y:.1f}L{callout.x:.1f} {callout.wish:.1f}" fill="none"'
    return (
        f'<path {path} stroke="{PAPER}" stroke-width="2.8" stroke-opacity=".85"/>'
        f'<path {path} stroke="{INK}" stroke-width=".9"/>'
        f'<circle cx="{callout.x:.1f}" cy="{callout.wish:.1f}" r="1.9" fill="{INK}"/>'
    )


def drawn(callout: Callout, edge: float) -> str:
    """The callout itself; ``edge`` is the side of it that looks at the vehicle."""
    left = edge if callout.right else edge - WIDTH
    wide = 11.5 if len(callout.letter) < 2 else 17
    room = _CHARACTERS + 1 - len(callout.letter)
    return (
        f"<g><title>{callout.letter} {', '.join(map(str, callout.numbers))}</title>"
        f'<rect x="{left:.1f}" y="{callout.y - 6:.1f}" width="{WIDTH:g}" height="12" rx="3" '
        f'fill="{PAPER}" stroke="{INK}" stroke-width=".8"/>'
        f"{chip(left + 1 + wide / 2, callout.y, callout.letter) if callout.letter else ''}"
        f'<text x="{left + wide + 4:.1f}" y="{callout.y + 3.6:.1f}" font-size="10" '
        f'font-weight="700" fill="{INK}">{shortened(callout.numbers, room)}</text></g>'
    )
