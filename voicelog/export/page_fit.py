"""How large page one may be printed, so that it stays one page of A4 or Letter.

A style sheet cannot fit text to paper by itself, and a script is out of the question; so the lines
are counted here, by widths that lie on the wide side of common fonts.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from voicelog.domain.report import Answer, Item, Report, Row

PAGE_MM = 254.0
"""What Letter, the shorter of the two, leaves between the margins of the style sheet."""


@dataclass(frozen=True, slots=True)
class Size:
    """One size of page one.

    Args:
        scale: of its text, against the style sheet's own sizes.
        plan_mm: the tallest that its drawing may be.
    """

    scale: float
    plan_mm: float


SIZES = (Size(1.1, 108.0), Size(1.0, 97.0), Size(0.9, 90.0), Size(0.82, 82.0))
"""From roomy to tight; the style sheet has a class for each, and one more, in which texts are cut."""


def fit_of(report: Report) -> int:
    """Which of :data:`SIZES` page one is printed in: the roomiest that stays on one page.

    One more than there are where not even the last does: its texts are cut.
    """
    fitting = (n for n, size in enumerate(SIZES) if height_mm(report, size) <= PAGE_MM)
    return next(fitting, len(SIZES))


def height_mm(report: Report, size: Size) -> float:
    """About how tall page one is in one size; rather too much than too little."""
    line = 3.35 * size.scale
    middle = max(size.plan_mm + 5, _answers(report.answers, size) + 7.4 * line)
    head = (
        _lines(report.title, 80) * 5.5
        + 19
        + _lines(" ".join(report.counted), 118 / size.scale) * line
    )
    return head + middle + _worst(report, size) + _columns(report, size) + 6


def _answers(answers: Iterable[Answer], size: Size) -> float:
    line, across = 3.2 * size.scale, 70 / size.scale
    return sum(
        1.75 * line
        + _lines(one.answer, across * 0.74) * line * 1.4
        + (sum(_lines(reason, across) for reason in one.because) + bool(one.more)) * line
        for one in answers
    )


def _worst(report: Report, size: Size) -> float:
    """The tallest card, with its picture where any is shown."""
    pictured = any(item.pictures for item in report.findings)
    cards = [_card(item, 23 / size.scale) for item in report.worst]
    photo = 15.0 if pictured else 0.0
    return 14 + (max(cards) * 2.95 * size.scale + photo if cards else 4)


def card_of(item: Item) -> Mapping[str, str]:
    """What page one tells of a finding, each part as far as there is room for it."""
    texts = {
        "place": item.place,
        "what": item.what,
        "means": item.means,
        "limits": "; ".join(item.limits),
        "carries": item.carries,
    }
    return {name: _cut(text, _ROOM[name]) for name, text in texts.items()}


_ROOM = {"place": 60, "what": 90, "means": 90, "limits": 100, "carries": 100}
"""Characters of one card's parts: as much as the words of our own maps and rules ever take."""


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def _card(item: Item, across: float) -> float:
    card = card_of(item)
    labelled = {
        **card,
        "limits": f"But: {card['limits']}",
        "carries": f"Carries: {card['carries']}",
    }
    return 1.6 + sum(_lines(labelled[name], across) for name, text in card.items() if text)


def _columns(report: Report, size: Size) -> float:
    line = 3.15 * size.scale
    steps = sum(_lines(step, 36 / size.scale) for step in report.next_step)
    overruled = sum(_lines(one, 42 / size.scale) for one in report.overruled[:2]) + 2
    rests = _rows(report.basis, 27 / size.scale) + (overruled if report.overruled else 0)
    about = _rows((*report.vehicle, *report.conditions), 33 / size.scale)
    return 7 + max(steps, about, rests) * line


def _rows(rows: Iterable[Row], across: float) -> float:
    return sum(max(_lines(row.value, across), _lines(row.label, 15)) + 0.2 for row in rows)


def _lines(text: str, across: float) -> int:
    """How many lines a text takes where so many letters of usual width stand in one."""
    return max(1, math.ceil(sum(map(_width, text)) / across))


def _width(character: str) -> float:
    if unicodedata.east_asian_width(character) in "WF":
        return 1.9
    return 1.25 if character.isupper() else 1.0
