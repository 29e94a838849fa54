"""A line to type on, with its name in its frame."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Input

from voicelog.domain.inert import inert


class Field(Input):
    """One line of text; what is put or pasted into it is made harmless.

    Args:
        name: of the widget, to tell fields apart.
        label: stands in its frame.
        text: stands on it at first.
        example: shown while it is empty.
    """

    def __init__(self, name: str, label: str, text: str = "", *, example: str = "") -> None:
        super().__init__(
            inert(text, 2000), inert(example), id=name, select_on_focus=False, max_length=2000
        )
        self.border_title = Content(inert(label))
        self.cursor_blink = False

    def validate_value(self, value: str) -> str:
        """Control and direction marks become "?" before they are drawn or handed on."""
        return inert(value)
