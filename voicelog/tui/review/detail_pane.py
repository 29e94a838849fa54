"""The entry that is looked at, whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from voicelog.tui.review.detail_words import NAME, Detail, detail_lines
from voicelog.tui.review.marks import Known

_EMPTY = "There is no entry to look at."


class DetailPane(VerticalScroll):
    """Lines that wrap under themselves, below the title.

    Args:
        rules: rule to its sentence.
    """

    def __init__(self, rules: Mapping[str, str]) -> None:
        super().__init__()
        self._rules = rules
        self._told: tuple[Detail | None, int | None] = None, None
        self.known: Known | None = None

    def compose(self) -> ComposeResult:
        """One text, put together anew for each entry."""
        yield Static(Content(_EMPTY), id="detail-text")

    def show(self, detail: Detail | None, known: Known, *, playing: int | None = None) -> None:
        """Put an entry on the pane; where it stood scrolled stays only for the same entry."""
        before = self._told[0]
        self._told, self.known = (detail, playing), known
        if before is None or detail is None or before.finding.entry.id != detail.finding.entry.id:
            self.scroll_home(animate=False, immediate=True)
        self._draw()

    def on_resize(self) -> None:
        """Wrap anew."""
        self._draw()

    def _draw(self) -> None:
        detail, playing = self._told
        text = Content(_EMPTY)
        if detail is not None and self.known is not None:
            lines = detail_lines(detail, self.known, self._rules, playing=playing)
            text = Content("\n").join(_wrapped(lines, self.scrollable_content_region.width))
        self.query_one("#detail-text", Static).update(text)


def _wrapped(lines: Iterable[tuple[str, Content]], width: int) -> Iterable[Content]:
    """Each line beside its name; what does not fit goes on under itself."""
    before = ""
    for name, line in lines:
        label = "" if name == before else name
        before = name
        for part in line.wrap(max(12, width - NAME)):
            yield Content.assemble((f"{label:<{NAME}}", "$accent"), part)
            label = ""
