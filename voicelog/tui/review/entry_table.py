"""The table of entries: only the rows that can be seen are ever made into text."""

from __future__ import annotations

from collections.abc import Collection
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.strip import Strip

from voicelog.tongue import to_word, worded
from voicelog.tui.review.lines_view import LinesView
from voicelog.tui.review.listing import Listing
from voicelog.tui.review.marks import Known
from voicelog.tui.review.row_words import Widths, heading, row

_NOTHING = to_word("No entry is shown: f changes the filters")
_EMPTY = to_word("This log has no entries: a adds one")


class EntryTable(LinesView):
    """A heading and a row for each entry that is shown, one of them looked at.

    A table with a cell object for every slot of every entry takes a quarter of a second to fill with
    2,000 entries, and again with every filter; this one takes what its listing holds as it is.

    Args:
        listing: the entries, filtered and sorted.
        known: what marks are told from.
    """

    COMPONENT_CLASSES: ClassVar[set[str]] = {"table--heading", "table--cursor"}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "step(1)", "Down", show=False),
        Binding("up", "step(-1)", "Up", show=False),
        Binding("pagedown", "page(1)", "Page down", show=False),
        Binding("pageup", "page(-1)", "Page up", show=False),
        Binding("home", "step(-1000000)", "First", show=False),
        Binding("end", "step(1000000)", "Last", show=False),
    ]

    class LookedAt(Message):
        """Another entry is looked at; :attr:`Listing.current` says which.

        Whoever shows the entry also calls :meth:`EntryTable.moved`, so that both are drawn at once.

        Args:
            before: the row that was looked at.
        """

        def __init__(self, before: int) -> None:
            self.before = before
            super().__init__()

    def __init__(self, listing: Listing, known: Known) -> None:
        super().__init__()
        self.listing, self.known = listing, known
        self.picked: Collection[str] = ()
        self._widths = Widths.of(80)

    def on_mount(self) -> None:
        """The heading never scrolls."""
        self.renew()

    def on_resize(self) -> None:
        """Share the columns out anew, and keep the entry in sight."""
        self._widths = Widths.of(self.scrollable_content_region.width)
        self.renew()

    def renew(self) -> None:
        """Entries, filters or order have changed."""
        self.hold(max(1, len(self.listing.shown)) + 1)
        self._keep_in_sight()

    def go_to(self, number: int) -> None:
        """Look at another row."""
        before = self.listing.at
        self.listing.look_at(number)
        if self.listing.at != before:
            self.post_message(self.LookedAt(before))

    def moved(self, before: int) -> None:
        """Draw the cursor on its new row.

        Args:
            before: the row on which it was.
        """
        scrolled = self.scroll_offset.y
        self._keep_in_sight()
        if self.scroll_offset.y == scrolled:
            self.refresh_line(before + 1)
            self.refresh_line(self.listing.at + 1)
        else:
            self.refresh()

    def action_step(self, by: int) -> None:
        """Up or down."""
        self.go_to(self.listing.at + by)

    def action_page(self, by: int) -> None:
        """A window up or down."""
        self.action_step(by * max(1, self._visible_rows - 1))

    def on_click(self, event: events.Click) -> None:
        """The mouse looks at the entry under it."""
        at = event.get_content_offset(self)
        if at is not None and at.y > 0:
            self.go_to(self.scroll_offset.y + at.y - 1)

    def render_line(self, y: int) -> Strip:
        """The heading, or the entry that is scrolled to this line."""
        if y == 0:
            return self.strip(heading(self._widths), "table--heading")
        number = self.scroll_offset.y + y - 1
        shown = self.listing.shown
        if not shown:
            told = _NOTHING if self.listing.by_id else _EMPTY
            return self.strip(Content(f"  {worded(told)}" if y == 1 else ""))
        if number >= len(shown):
            return Strip.blank(self.size.width, self.rich_style)
        entry, looked_at = shown[number].entry.id, number == self.listing.at
        line = row(
            shown[number], self.known, self._widths, looked_at=looked_at,
            picked=entry in self.picked,
        )  # fmt: skip
        return self.strip(line, "table--cursor" if looked_at else "")

    @property
    def _visible_rows(self) -> int:
        return max(1, self.scrollable_content_region.height - 1)

    def _keep_in_sight(self) -> None:
        """Scroll no further than it takes."""
        at = max(0, self.listing.at)
        top, rows = self.scroll_offset.y, self._visible_rows
        if at < top or at >= top + rows:
            wanted = at if at < top else at - rows + 1
            self.scroll_to(y=wanted, animate=False, force=True, immediate=True)
