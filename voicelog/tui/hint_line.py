"""Under the state: why it is so, or what to do about it."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget


class HintLine(Widget):
    """One sentence, in the middle."""

    text: reactive[str] = reactive("")

    def render(self) -> Content:
        """The sentence."""
        return Content(self.text)
