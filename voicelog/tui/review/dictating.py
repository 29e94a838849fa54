"""A sentence spoken at the bench: a dialog that listens while somebody talks."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from threading import Event
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import VoicelogError
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.dialog import Dialog

Spoken = tuple[Heard, Clip]
Dictate = Callable[[Callable[[], None], Callable[[], bool]], Spoken]
"""Listens to one utterance: told when to say that one may speak, and asks whether to stop."""


def through_microphone(
    settings: Settings,
    grammar: Grammar,
    listening: Callable[[], None],
    stopped: Callable[[], bool],
) -> Spoken:
    """One sentence through the microphone that the settings name."""
    from voicelog.runtime.dictation import dictate, open_microphone  # few ever speak here

    return dictate(
        settings, grammar, lambda: open_microphone(settings), listening=listening, stopped=stopped
    )


async def speak(bench: Bench, dictating: Dictate) -> Spoken | None:
    """Listen to one sentence; None where it was left.

    Raises:
        VoicelogError: there is no ear or no microphone, or nothing was understood.
    """
    dialog = SpeakDialog(dictating)
    spoken = await bench.ask(dialog)
    if dialog.fault is not None:
        raise dialog.fault
    return spoken


class SpeakDialog(Dialog[Spoken]):
    """Waits for one sentence.

    Args:
        dictate: listens, on a thread of its own.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "stop", "stops listening", priority=True)
    ]

    class Ready(Message):
        """One may speak."""

    def __init__(self, dictate: Dictate) -> None:
        super().__init__("SPEAK THE SENTENCE")
        self._dictate, self._stop = dictate, Event()
        self.fault: VoicelogError | None = None

    def body(self) -> ComposeResult:
        """What is waited for."""
        yield Static(Content("The recogniser is being made ready …"), id="hearing")

    def on_mount(self) -> None:
        """Begin to listen."""
        self.run_worker(self._listen(), exclusive=True)

    def action_stop(self) -> None:
        """Nothing is to be heard after all."""
        self._stop.set()
        self.action_leave()

    def on_unmount(self) -> None:
        """Whatever closed it: the microphone is let go."""
        self._stop.set()

    async def _listen(self) -> None:
        try:
            self.take(await asyncio.to_thread(self._dictate, self._ready, self._stop.is_set))
        except VoicelogError as fault:
            self.fault = None if self._stop.is_set() else fault
            self.action_leave()

    def on_speak_dialog_ready(self) -> None:
        """The microphone is open."""
        told = Content.styled("Speak now: one sentence, then a pause", "bold")
        self.query_one("#hearing", Static).update(told)

    def _ready(self) -> None:
        """Called on the listening thread; posting is safe from there."""
        self.post_message(self.Ready())
