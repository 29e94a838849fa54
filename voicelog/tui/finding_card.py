"""The last entry as a card: where, what, how bad in very large letters, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.entry import Finding
from voicelog.domain.zone import ZoneMap
from voicelog.tongue import to_word, worded
from voicelog.tui.badge import NOTHING, Badge
from voicelog.tui.entry_words import (
    doubt_words,
    limit_words,
    place_words,
    trimmed,
    what_words,
    why_words,
)
from voicelog.tui.looks import look_of

_EMPTY = to_word("Nothing found yet.\nEvery entry appears here with its grade and why.")


class FindingCard(Horizontal):
    """The newest entry, or the one picked from the list."""

    def __init__(self) -> None:
        super().__init__()
        self.rules: Mapping[str, str] = {}
        self.finding: Finding | None = None

    def compose(self) -> ComposeResult:
        """The badge and the lines beside it."""
        yield Badge()
        yield CardLines(id="card-lines")

    def show(self, finding: Finding, zone_map: ZoneMap) -> None:
        """Put an entry on the card, with the titles of its map's zones."""
        self.finding = trimmed(finding)
        badge = self.query_one(Badge)
        badge.look = look_of(self.finding)
        badge.notes = tuple(limit_words(self.finding))
        self.query_one(CardLines).told = Content("\n").join(self._told(self.finding, zone_map))
        self.set_class(badge.look is not NOTHING, "-filled")

    def _told(self, finding: Finding, zone_map: ZoneMap) -> Iterator[Content]:
        yield Content.styled(place_words(finding.entry, zone_map), "bold")
        yield Content.styled(what_words(finding), "bold $accent")
        for caution in finding.cautions:
            yield Content.styled(f"! {caution}", "bold")
        for doubt in doubt_words(finding.entry, zone_map):
            yield Content(f"? {doubt}")
        for why in why_words(finding, self.rules):
            yield Content(worded("why: {why}", why=why))


class CardLines(Widget):
    """What is told of an entry; where there is no room for all of it, the last row ends in "…"."""

    told: reactive[Content | None] = reactive(None)

    def render(self) -> Content:
        """As many rows as there is room for."""
        told = self.told or Content(worded(_EMPTY))
        width, height = self.content_size
        rows = told.wrap(width) if width > _MORE.cell_length else []
        if len(rows) <= height or not height:
            return told
        last = _shortened(rows[height - 1].rstrip(), width - _MORE.cell_length)
        return Content("\n").join([*rows[: height - 1], last + _MORE])


_MORE = Content(" …")


def _shortened(row: Content, cells: int) -> Content:
    """A row's words that fit into so many cells; part of the first where not even that does."""
    if row.cell_length <= cells:
        return row
    end = row.plain.rfind(" ", 0, len(row.truncate(cells).plain) + 1)
    return row[:end] if end > 0 else row.truncate(cells)
