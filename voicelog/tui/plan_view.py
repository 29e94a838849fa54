"""The plan on the screen, with what its signs mean."""

from __future__ import annotations

from itertools import zip_longest

from textual.content import Content
from textual.widget import Widget

from voicelog.domain.entry import Inspection
from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.tongue import to_word, worded
from voicelog.tui.looks import CAVITY, GRADES, SEEN, Look
from voicelog.tui.plan import Grid, Spot, draw, hidden, states

HERE = "◆"
"""Drawn over the place where the inspector is."""
YOU = Look(to_word("you are here"), HERE, "")
"""What that sign means."""

_MEANING = 20
"""Columns of one sign with its meaning, at least."""
_LEAST_ROWS, _LEAST_COLUMNS = 8, 24


class PlanView(Widget):
    """Each place of each side with its state, the vehicle's front at the top."""

    def __init__(self) -> None:
        super().__init__()
        self.border_title = worded("PLAN · front at the top")
        self._zone_map: ZoneMap | None = None
        self._inspection: Inspection | None = None
        self._here: Slots = {}

    def show(self, inspection: Inspection, zone_map: ZoneMap, here: Slots) -> None:
        """Draw what is known now.

        Args:
            inspection: as it stands.
            zone_map: where the places lie.
            here: where the inspector is.
        """
        self._inspection, self._zone_map, self._here = inspection, zone_map, here
        self.refresh()

    def render(self) -> Content:
        """The plan with its legend below, or beside it where the window is low and wide."""
        width, height = self.content_size
        if height < 20 and width > 64:
            edge = width - min(_across(), width // 2)
            plan = self._plan(edge - 2, height)
            return Content("\n").join(_beside(plan, _legend(1, width - edge), edge))
        across = min(_across(), width)
        legend = _legend(max(1, width // across), across)
        return Content("\n").join([*self._plan(width, height - len(legend)), *legend])

    def _plan(self, width: int, height: int) -> list[Content]:
        """Rows of the plan, with the sides named above."""
        if height <= _LEAST_ROWS or width < _LEAST_COLUMNS:
            return [Content(worded("The plan needs a larger window"))]
        left, right = worded("LEFT"), worded("RIGHT")
        sides = Content(f"{left:<{width // 2}}{right:>{width - width // 2}}")
        return [sides, *map(_row, self._grid(width, height - 1))]

    def _grid(self, width: int, height: int) -> Grid:
        inspection, zone_map = self._inspection, self._zone_map
        if inspection is None or zone_map is None:
            return ()
        known = states(inspection, zone_map)
        return draw(zone_map, known, hidden(inspection), self._here, width, height)


def _look(spot: Spot) -> Look:
    return GRADES.get(spot.state) or SEEN[spot.state]


def _sign(spot: Spot) -> str:
    if spot.cavity:
        return CAVITY.sign
    return HERE if spot.here else _look(spot).sign


def _style(spot: Spot | None) -> str:
    if spot is None:
        return ""
    return f"{_look(spot).style} {'underline' if spot.last else ''}".strip()


def _row(row: tuple[Spot | None, ...]) -> Content:
    """One row; neighbours of one look become one piece."""
    pieces: list[tuple[str, str]] = []
    for spot in row:
        sign, style = (_sign(spot) if spot else " "), _style(spot)
        if pieces and pieces[-1][1] == style:
            sign = pieces.pop()[0] + sign
        pieces.append((sign, style))
    return Content.assemble(*pieces)


def _meanings() -> list[Look]:
    return [*SEEN.values(), CAVITY, *reversed(list(GRADES.values())), YOU]


def _across() -> int:
    """Columns of one sign with its meaning, in the language of whoever reads it."""
    return max(_MEANING, *(len(look.name) + 5 for look in _meanings()))


def _legend(columns: int, across: int) -> list[Content]:
    """Every sign with its meaning, so many beside each other."""
    cells = [
        Content.assemble((f" {look.sign} ", look.style), f" {look.name}").truncate(
            across, ellipsis=True, pad=True
        )
        for look in _meanings()
    ]
    return [Content("").join(cells[n : n + columns]) for n in range(0, len(cells), columns)]


def _beside(left: list[Content], right: list[Content], edge: int) -> list[Content]:
    """Two columns of lines; the second begins at ``edge``."""
    pairs = zip_longest(left, right, fillvalue=Content(""))
    return [Content.assemble(a, " " * max(1, edge - a.cell_length), b) for a, b in pairs]
