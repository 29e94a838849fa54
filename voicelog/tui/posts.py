"""The engine's messages on their way through Textual's queue, which is safe to fill from a thread."""

from __future__ import annotations

from textual.message import Message as TextualMessage

from voicelog.runtime.messages import Level, Message, Partial


class Published(TextualMessage):
    """One message of the engine.

    Args:
        message: what was published.
    """

    def __init__(self, message: Message) -> None:
        self.message = message
        super().__init__()

    def can_replace(self, message: TextualMessage) -> bool:
        """True for a level (or a partial) right behind which a newer one waits.

        Otherwise a slow screen would fall seconds behind. Nothing else is ever dropped.
        """
        newer = isinstance(message, Published) and type(message.message) is type(self.message)
        return newer and isinstance(self.message, Level | Partial)
