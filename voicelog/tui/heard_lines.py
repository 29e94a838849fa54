"""What is being said, what was heard last, and what the tool answered."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.inert import inert
from voicelog.tongue import worded
from voicelog.tui.looks import in_column

LONGEST = 400
"""Characters of a text that are looked at."""


class HeardLines(Widget):
    """Two or three lines; where there is little room, what is being said covers what was heard."""

    partial: reactive[str] = reactive("")
    heard: reactive[str] = reactive("")
    answer: reactive[str] = reactive("")

    def validate_partial(self, text: str) -> str:
        """The end of what is being said, harmless; the beginning has been read already."""
        return inert(text[-LONGEST:])

    def validate_heard(self, text: str) -> str:
        """The sentence, harmless."""
        return inert(text, LONGEST)

    def validate_answer(self, text: str) -> str:
        """The answer, harmless."""
        return inert(text, LONGEST)

    def render(self) -> Content:
        """The lines that fit."""
        width, height = self.content_size
        names = in_column(worded("SAYING"), worded("HEARD"), worded("ANSWER"))
        saying = self._line(names[0], self.partial, width, "bold", tail=True)
        heard = self._line(names[1], f"“{self.heard}”" if self.heard else "", width)
        answer = self._line(names[2], self.answer, width)
        if height >= 3:
            return Content("\n").join([saying, heard, answer])
        return Content("\n").join([saying if self.partial else heard, answer][:height])

    def _line(
        self, name: str, text: str, width: int, style: str = "", *, tail: bool = False
    ) -> Content:
        room = max(1, width - len(name) - 2)
        if len(text) > room:
            text = "…" + text[1 - room :] if tail else text[: room - 1] + "…"
        return Content.assemble((name, "$accent"), "  ", (text, style))
