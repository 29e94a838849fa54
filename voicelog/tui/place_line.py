"""Where the inspector is now, in large letters."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.tongue import to_word, worded
from voicelog.tui.lettering import lettered

NOWHERE = to_word("no place yet")


class PlaceLine(Widget):
    """The current zone and side."""

    place: reactive[str] = reactive("")

    def render(self) -> Content:
        """The place as large as it fits."""
        width, height = self.content_size
        return Content(lettered(self.place or worded(NOWHERE), width, height))
