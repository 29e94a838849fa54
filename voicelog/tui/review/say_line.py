"""What a key has done, or why it could not."""

from __future__ import annotations

from voicelog.domain.inert import inert
from voicelog.tui.notice_line import NoticeLine


class SayLine(NoticeLine):
    """The newest word at once, whatever stood there: it answers the key that was pressed last."""

    def show(self, text: str, *, serious: bool = False) -> None:
        """Say something; what is serious stands on the colour of alarms."""
        self.text, self.serious = inert(text, 400), serious
        self._make_room()

    def on_resize(self) -> None:
        """What fitted may fit no longer."""
        self._make_room()

    def _make_room(self) -> None:
        """Two lines for what is longer than one."""
        self.set_class(self.render().cell_length > self.content_size.width > 0, "-long")
