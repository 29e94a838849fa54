"""A line to type on, for days too noisy to hear."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Input

from voicelog.tongue import to_word, worded


class TypedLine(Input):
    """Enter sends the words and stays open for more; Escape leaves."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "submit", to_word("Send"), id="typed-send"),
        Binding("escape", "leave", to_word("Leave the line"), id="typed-leave"),
    ]

    class Said(Message):
        """Words were typed.

        Args:
            text: as they were typed.
        """

        def __init__(self, text: str) -> None:
            self.text = text
            super().__init__()

    def __init__(self) -> None:
        super().__init__(
            placeholder=worded("type what you would say"),
            compact=True, select_on_focus=False, max_length=2000,
        )  # fmt: skip
        self.cursor_blink = False
        self.display = False

    def open(self) -> None:
        """Show the line and write on it."""
        self.display = True
        self.focus()

    def action_leave(self) -> None:
        """Put the line away; what stands on it stays for the next time."""
        self.display = False
        self.screen.set_focus(None)

    async def action_submit(self) -> None:
        """Send what was typed, unless it is nothing."""
        said, self.value = self.value.strip(), ""
        if said:
            self.post_message(self.Said(said))
