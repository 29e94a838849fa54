"""An entry as one row of the table."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.inert import inert
from voicelog.domain.local_time import time_of_day
from voicelog.domain.told_length import told_number
from voicelog.findings.wording import condition_in_words
from voicelog.tongue import to_word, worded
from voicelog.tui.entry_words import place_words
from voicelog.tui.looks import WITHDRAWN, Look, look_of
from voicelog.tui.review.marks import MARKS, Known, signs

LONGEST = 80
"""Characters of a cell that are looked at; the log keeps them all."""

_LEAD, _ID, _TIME, _GRADE, _MARKS = 2, 8, 9, 12, len(MARKS)
_WITH_TIME = 88
"""Columns from which the time is shown."""

_SIZES = (
    ("size_mm", to_word("{number} mm")), ("width_mm", to_word("{number} mm wide")),
    ("depth_mm", to_word("{number} mm deep")), ("thickness_mm", to_word("{number} mm thick")),
    ("loss_percent", to_word("{number} % lost")), ("area_percent", to_word("{number} %")),
    ("count", to_word("{number} times")),
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
    cells = [
        _cell(worded("id"), _ID),
        _cell(worded("time"), widths.time) if widths.time else "",
        _cell(worded("grade"), _GRADE),
        _cell(worded("place"), widths.place),
        _cell(worded("what"), widths.what),
        _cell(worded("size"), widths.size),
    ]
    return Content.assemble(" " * _LEAD, *cells, " ", *(mark.sign for mark in MARKS))


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
        return _on_colours(f"{WITHDRAWN.sign} {WITHDRAWN.word}", WITHDRAWN)
    look = look_of(finding)
    return _on_colours(f" {look.sign} {look.word}", look)


def _on_colours(text: str, look: Look) -> Content:
    told = Content(text).truncate(_GRADE - 1, ellipsis=True, pad=True)
    return Content.styled(told.plain, look.style)


def what_cell(finding: Finding) -> str:
    """What is the matter, in as few words as can be."""
    entry = finding.entry
    match entry.kind:
        case Kind.REMARK:
            return ", ".join(tag.replace("-", " ") for tag in entry.tags) or worded("remark")
        case Kind.NOT_SEEN:
            return entry.reason or worded("not seen")
        case Kind.PHOTO:
            return worded("photo")
    told = condition_in_words(entry) or worded("not named")
    absent = [worded("no {part}", part=name.replace("-", " ")) for name in entry.absent]
    return ", ".join((told, *absent))


def size_cell(finding: Finding) -> str:
    """How big, or the first other number there is."""
    slots, ranges = finding.entry.slots, finding.entry.ranges
    for name, shape in _SIZES:
        if name in slots:
            ends = ranges.get(name) or (float(slots[name]),)
            return worded(shape, number="–".join(_number(float(end), name) for end in ends))
    return ""


def _number(value: float, slot: str) -> str:
    """A length as it is told everywhere, a share to a tenth."""
    return f"{told_number(value, slot) if slot.endswith('_mm') else round(value, 1):g}"


def _cell(text: str, width: int, style: str = "") -> Content:
    """A cell that keeps its width, with a blank behind it."""
    told = Content.styled(inert(text, LONGEST), style)
    return told.truncate(width - 1, ellipsis=True, pad=True) + " "
