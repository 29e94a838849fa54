"""How the whole log stands, beside a table that has room for it: the verdict, and what is open."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content
from textual.widget import Widget

from voicelog.domain.entry import Inspection
from voicelog.domain.inert import inert
from voicelog.tongue import worded, worded_many
from voicelog.tui.review.dialog import LONGEST
from voicelog.tui.review.looking import Looking


class StandingView(Widget):
    """A verdict and the worst open points; empty until :meth:`renew` was called while it is shown.

    Args:
        looking: the log.
    """

    def __init__(self, looking: Looking) -> None:
        super().__init__()
        self._looking = looking
        self._lines: tuple[Content, ...] = ()
        self._of = -1

    @property
    def is_current(self) -> bool:
        """Nothing was written since it was worked out."""
        return self._of == len(self._looking.review.facts)

    def renew(self) -> None:
        """Work it out, where it is seen and anything was written since; 2,000 entries take 0.1 s."""
        review = self._looking.review
        if self.is_on_screen and not self.is_current:
            self._of, points = len(review.facts), [point.text for point in review.open_points()]
            self._lines = (_verdict(review.inspection()), _count(points), *_points(points))
            self.refresh()

    def on_show(self) -> None:
        """The window has become wide enough."""
        self.renew()

    def render(self) -> Content:
        """As many points as there is room for; the last line counts those that have none."""
        height = self.content_size.height
        lines, more = self._lines[:height], len(self._lines) - height
        if more > 0:
            lines = (
                *lines[:-1],
                Content("  " + worded_many("and {count} more", "and {count} more", more + 1)),
            )
        return Content("\n").join(lines)


def verdict_words(inspection: Inspection) -> str:
    """What follows from all that was said, in one line."""
    verdict = inspection.verdict
    return worded(
        "{drive}; work: {work}",
        drive=verdict.drive.replace("-", " "),
        work=verdict.work.replace("-", " "),
    )


def _verdict(inspection: Inspection) -> Content:
    return Content.assemble(
        (worded("ON WHAT WAS SAID") + "  ", "bold $accent"), (verdict_words(inspection), "bold")
    )


def _count(points: list[str]) -> Content:
    told = (
        worded("{number}; i goes to one", number=len(points))
        if points
        else worded("nothing; S signs the log")
    )
    return Content.assemble((worded("OPEN") + "  ", "bold $accent"), told)


def _points(points: list[str]) -> Iterator[Content]:
    return (Content(f"– {inert(text, LONGEST)}") for text in points)
