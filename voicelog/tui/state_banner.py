"""What the tool is doing, in letters that can be read across a workshop."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.runtime.messages import State
from voicelog.tui.lettering import lettered
from voicelog.tui.looks import STATES, Look


class StateBanner(Widget):
    """The state's word across the whole width, its sign left and right, its colour behind."""

    look: reactive[Look] = reactive(STATES[State.STARTING])

    def watch_look(self, old: Look, new: Look) -> None:
        """Take on the colours of the state."""
        self.remove_class(old.css_class)
        self.add_class(new.css_class)

    def render(self) -> Content:
        """The word, with as much of its sign on both sides as there is room for."""
        width, height = self.content_size
        lines = lettered(self.look.word, width, height).split("\n")
        wide = max(map(len, lines))
        left = max(0, (width - wide) // 2)
        flank = self.look.sign * max(0, min(left, width - wide - left) - 2)
        rows = (f"{flank:<{left}}{line:<{wide}}{flank:>{left}}" for line in lines)
        return Content("\n".join(rows))
