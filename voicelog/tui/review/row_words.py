"""An entry as one row of the table."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.inert import inert
from voicelog.domain.local_time import time_of_day
from voicelog.findings.wording import condition_in_words
from voicelog.tui.entry_words import place_words
from voicelog.tui.looks import KINDS, look_of
from voicelog.tui.review.marks import MARKS, Known, signs

LONGEST = 80
"""Characters of a cell that are looked at; the log keeps them all."""

_LEAD, _ID, _TIME, _GRADE, _MARKS = 2, 8, 9, 12, len(MARKS)
_WITH_TIME = 88
"""Columns from which the time is shown."""

WITHDRAWN = "– WITHDRAWN"
_SIZES = (
    ("size_mm", "{} mm"), ("width_mm", "{} mm wide"), ("depth_mm", "{} mm deep"),
    ("thickness_mm", "{} mm thick"), ("loss_percent", "{} % lost"), ("area_percent", "{} %"),
    ("count", "{} times"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Widths:
    """Columns of each cell; ``time`` may be 0.

    Args:
        time: of the time of day.
        place: of where it is.
        what: of what is the matter.
        size: of how big it is.
    """

    time: int
    place: int
    what: int
    size: int

    @classmethod
    def of(cls, width: int) -> Widths:
        """How so many columns are shared out."""
        time = _TIME if width >= _WITH_TIME else 0
        room = max(30, width - _LEAD - _ID - _GRADE - _MARKS - time - 1)
        size = min(14, max(11, room // 6))
        what = max(10, (room - size) * 2 // 5)
        return cls(time, room - size - what, what, size)


def heading(widths: Widths) -> Content:
    """What the columns are; the signs stand over their own columns."""
    cells = [("id", _ID), ("time", widths.time), ("grade", _GRADE), ("place", widths.place)]
    cells += [("what", widths.what), ("size", widths.size)]
    told = "".join(f"{name:<{width}}" for name, width in cells if width)
    return Content(f"{'':<{_LEAD}}{told} {''.join(mark.sign for mark in MARKS)}")


def row(
    finding: Finding, known: Known, widths: Widths, *, looked_at: bool = False, picked: bool = False
) -> Content:
    """One row.

    Args:
        finding: the entry.
        known: what its marks are told from.
        widths: of the cells.
        looked_at: it has the cursor.
        picked: it was marked to be moved or merged.
    """
    struck = "strike" if finding.withdrawn else ""
    entry = finding.entry
    return Content.assemble(
        "▸" if looked_at else " ", "*" if picked else " ", _cell(entry.id, _ID),
        _cell(time_of_day(entry.at, known.zone), widths.time) if widths.time else "",
        grade_cell(finding), " ",
        _cell(place_words(entry, known.zone_map), widths.place, struck),
        _cell(what_cell(finding), widths.what, struck), _cell(size_cell(finding), widths.size),
        " ", signs(finding, known),
    )  # fmt: skip


def grade_cell(finding: Finding) -> Content:
    """Sign and word on their colours, or that it holds no longer."""
    if finding.withdrawn:
        return Content.styled(f"{WITHDRAWN:<{_GRADE - 1}}", KINDS[Kind.REMARK].style)
    look = look_of(finding)
    return Content.styled(f" {look.sign} {look.word:<{_GRADE - 4}}", look.style)


def what_cell(finding: Finding) -> str:
    """What is the matter, in as few words as can be."""
    entry = finding.entry
    match entry.kind:
        case Kind.REMARK:
            return ", ".join(tag.replace("-", " ") for tag in entry.tags) or "remark"
        case Kind.NOT_SEEN:
            return entry.reason or "not seen"
        case Kind.PHOTO:
            return "photo"
    told = condition_in_words(entry) or "not named"
    absent = [f"no {name.replace('-', ' ')}" for name in entry.absent]
    return ", ".join((told, *absent))


def size_cell(finding: Finding) -> str:
    """How big, or the first other number there is."""
    slots, ranges = finding.entry.slots, finding.entry.ranges
    for name, shape in _SIZES:
        if name in slots:
            ends = ranges.get(name) or (float(slots[name]),)
            return shape.format("–".join(f"{round(float(end), 1):g}" for end in ends))
    return ""


def _cell(text: str, width: int, style: str = "") -> Content:
    """A cell that keeps its width, with a blank behind it."""
    told = Content.styled(inert(text, LONGEST), style)
    return told.truncate(width - 1, ellipsis=True, pad=True) + " "
