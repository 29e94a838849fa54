"""How loud it is, and how loud the workshop is in between."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.runtime.messages import Level
from voicelog.tongue import worded
from voicelog.tui.looks import in_column

FLOOR_DBFS = -72.0
"""The left end of the bar: below it a microphone gives nothing but its own hiss. Ours."""


class Meter(Widget):
    """A bar of the level with a mark at the noise floor, and both in figures."""

    level: reactive[Level | None] = reactive(None)

    def render(self) -> Content:
        """The bar fills what the figures leave."""
        name = (in_column(worded("LEVEL"))[0] + "  ", "$accent")
        if self.level is None:
            return Content.assemble(name, worded("no sound yet"))
        level, noise = self.level.level_dbfs, self.level.noise_dbfs
        figures = " " + worded(
            "{level} dB  floor {noise} dB", level=f"{level:>4.0f}", noise=f"{noise:>4.0f}"
        )
        clipped = "  " + worded("CLIPPED") + " "
        tail = (clipped, "bold $tone-alarm-ink on $tone-alarm") if self.level.clipped else ""
        taken = len(name[0]) + len(figures) + len(clipped)
        room = max(4, self.content_size.width - taken - 1)
        return Content.assemble(name, _bar(level, noise, room), figures, tail)


def _bar(level: float, noise: float, cells: int) -> str:
    """``━`` as far as the level reaches, ``┃`` at the floor, ``·`` beyond."""
    reach, floor = _cells(level, cells), min(_cells(noise, cells), cells - 1)
    drawn = ["━" if cell < reach else "·" for cell in range(cells)]
    drawn[floor] = "┃"
    return "".join(drawn)


def _cells(dbfs: float, cells: int) -> int:
    if dbfs != dbfs:  # not a number: silence in figures
        return 0
    return round(cells * min(1.0, max(0.0, 1 - dbfs / FLOOR_DBFS)))
