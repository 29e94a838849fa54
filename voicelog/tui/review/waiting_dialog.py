"""A dialog for work that takes seconds: what is done, for how long, and Escape that calls it off."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from threading import Event
from time import monotonic
from typing import ClassVar, TypeVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from voicelog.domain.inert import inert
from voicelog.errors import VoicelogError
from voicelog.tongue import to_word, worded
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.dialog import LONGEST, Dialog

T = TypeVar("T")

Tell = Callable[[str], None]
"""Says what is done now; may be called from any thread."""

Stopped = Callable[[], bool]
"""Asks whether nobody waits for it any more."""

Work = Callable[[Tell, Stopped], T]
"""What is done, on a thread of its own."""


async def wait_for(bench: Bench, title: str, first: str, work: Work[T]) -> T | None:
    """Show that something is done until it is; None where it was called off.

    Args:
        bench: where.
        title: stands in the frame.
        first: what is done at first, in a few words.
        work: does it.

    Raises:
        VoicelogError: what the work raised.
    """
    dialog = WaitingDialog(title, first, work)
    done = await bench.ask(dialog)
    if dialog.fault is not None:
        raise dialog.fault
    return done


class WaitingDialog(Dialog[T]):
    """Gives back what the work does; no other key reaches the screen meanwhile.

    Args:
        title: stands in the frame.
        first: what is done at first, in a few words.
        work: does it.
        clock: seconds that only run forward.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "stop", to_word("calls it off"), priority=True)
    ]

    class Told(Message):
        """Something else is done now.

        Args:
            text: in a few words.
        """

        def __init__(self, text: str) -> None:
            self.text = text
            super().__init__()

    def __init__(
        self, title: str, first: str, work: Work[T], clock: Callable[[], float] = monotonic
    ) -> None:
        super().__init__(title)
        self._doing, self._work, self._clock = first, work, clock
        self._begun_s, self._stop = clock(), Event()
        self.fault: VoicelogError | None = None

    def body(self) -> ComposeResult:
        """What is done."""
        yield Static(id="doing")

    def on_mount(self) -> None:
        """Begin, and count the seconds."""
        self._show()
        self.set_interval(1.0, self._show)
        self.run_worker(self._wait(), exclusive=True)

    def on_waiting_dialog_told(self, event: Told) -> None:
        """Say it."""
        self._doing = event.text
        self._show()

    def action_stop(self) -> None:
        """Nobody waits for it any more."""
        self._stop.set()
        self.action_leave()

    def on_unmount(self) -> None:
        """Whatever closed it: the work is called off."""
        self._stop.set()

    async def _wait(self) -> None:
        try:
            self.take(await asyncio.to_thread(self._work, self._tell, self._stop.is_set))
        except VoicelogError as fault:
            self.fault = None if self._stop.is_set() else fault
            self.action_leave()

    def _tell(self, text: str) -> None:
        """Called on the working thread; posting is safe from there."""
        self.post_message(self.Told(text))

    def _show(self) -> None:
        since_s = int(self._clock() - self._begun_s)
        told = Content.assemble(
            (inert(self._doing, LONGEST), "bold"),
            "  " + worded("{seconds} s", seconds=since_s) if since_s else "",
        )
        self.query_one("#doing", Static).update(told)
