"""What a key has done, or why it could not."""

from __future__ import annotations

from voicelog.domain.inert import inert
from voicelog.tui.notice_line import NoticeLine


class SayLine(NoticeLine):
    """The newest word at once, whatever stood there: it answers the key that was pressed last."""

    def show(self, text: str, *, serious: bool = False) -> None:
        """Say something; what is serious stands on the colour of alarms."""
        self.text, self.serious = inert(text, 400), serious
