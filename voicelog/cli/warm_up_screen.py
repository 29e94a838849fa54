"""What a person sees during a warm-up, and the keys that they may press."""

from __future__ import annotations

import sys
from queue import Empty, SimpleQueue
from threading import Thread
from types import TracebackType
from typing import TextIO

from rich.align import Align
from rich.console import Console
from rich.panel import Panel
from rich.progress import BarColumn, Progress, TaskID, TextColumn
from rich.text import Text

from voicelog.cli.warm_up_lines import (
    advice,
    confusion_table,
    missed_lines,
    result_lines,
    tuning_lines,
)
from voicelog.domain.inert import inert
from voicelog.runtime.warm_up import Learned
from voicelog.runtime.warm_up_listening import Wish
from voicelog.runtime.warm_up_prompts import Prompt
from voicelog.runtime.warm_up_takes import Take
from voicelog.tongue import worded

_STOPS = frozenset(("q", "quit", "stop"))


class Shown:
    """A terminal, or lines of text where there is none (a :class:`~..runtime.warm_up_listening.Watch`).

    Args:
        stream: where it is shown.
        keys: take lines from the keyboard: an empty one skips, "q" stops.
    """

    def __init__(self, stream: TextIO, *, keys: bool) -> None:
        self._out = Console(file=stream, highlight=False)
        self._wishes: SimpleQueue[Wish] = SimpleQueue()
        self._keys = keys and sys.stdin is not None and sys.stdin.isatty()
        self._progress: Progress | None = None
        self._bar = TaskID(0)

    def __enter__(self) -> Shown:
        if self._keys:
            Thread(target=self._listen, name="warm-up keys", daemon=True).start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._end_progress()

    def greet(self, device: str, sentences: int) -> None:
        """What is going to happen, and what becomes of the sound."""
        self._line(
            worded(
                "Warm-up: say {sentences} sentences, one at a time, as you would under a vehicle.",
                sentences=sentences,
            )
        )
        self._line(worded("Microphone: {device}", device=device))
        self._line(worded("The sound stays in this machine's memory and is forgotten at the end."))
        if self._keys:
            self._line(worded('Enter, or "next", skips a sentence. q and Enter stops.'))

    def show(self, number: int, of: int, prompt: Prompt) -> None:
        """The next sentence, as large as a line of text gets."""
        said = Text(inert(prompt.text), style="bold")
        if self._out.is_terminal:
            title = worded("{number} of {of}", number=number, of=of)
            self._out.print(Panel(Align.center(said), title=title, padding=(1, 2)))
        else:
            self._line(
                worded(
                    "{number} of {of}  Say: {sentence}", number=number, of=of, sentence=said.plain
                )
            )

    def took(self, take: Take) -> None:
        """Heard as it was said, understood all the same, or not."""
        if take.right and not take.wrong_words:
            self._line(("  " + worded("understood, every word")), "green")
        elif take.right:
            self._line(
                ("  " + worded("understood, heard as: {heard}", heard=inert(take.heard))), "green"
            )
        else:
            self._line(
                (
                    "  "
                    + worded(
                        "not understood, heard as: {heard}",
                        heard=inert(take.heard) or worded("(nothing)"),
                    )
                ),
                "yellow",
            )

    def note(self, text: str) -> None:
        """Something to know."""
        self._line(f"  {inert(text)}", "yellow")

    def tuning(self, done: int, of: int) -> None:
        """A bar while the sentences are decoded again; one line where nobody looks."""
        if not self._out.is_terminal:
            if done == 1:
                self._line(worded("Trying other settings on what was said …"))
            return
        if self._progress is None:
            columns = (TextColumn(worded("trying other settings")), BarColumn())
            self._progress = Progress(*columns, console=self._out, transient=True)
            self._bar = self._progress.add_task("", total=of)
            self._progress.start()
        self._progress.update(self._bar, completed=done)
        if done == of:
            self._end_progress()

    def wish(self, *, wait_s: float = 0.0) -> Wish | None:
        """What was typed since the last look, or is within so many seconds."""
        try:
            return self._wishes.get(timeout=wait_s) if wait_s else self._wishes.get_nowait()
        except Empty:
            return None

    def report(self, learned: Learned) -> None:
        """What was learned."""
        self._end_progress()
        self._block(worded("What was heard"), list(result_lines(learned)))
        if learned.confusions:
            self._line("")
            self._out.print(confusion_table(learned.confusions))
        self._block(worded("Never heard right"), list(missed_lines(learned.missed)))
        self._block(worded("What to do"), list(advice(learned)))
        self._block(worded("Tuning"), list(tuning_lines(learned.tuning, ear=learned.ear)))

    def _block(self, title: str, lines: list[str]) -> None:
        if lines:
            self._line("")
            self._line(title, "bold")
        for line in lines:
            self._line(f"  {line}")

    def _line(self, text: str, style: str = "") -> None:
        """Wrapped on a terminal; whole for whoever reads it otherwise."""
        self._out.print(Text(text, style=style), soft_wrap=not self._out.is_terminal)

    def _end_progress(self) -> None:
        if self._progress is not None:
            self._progress.stop()
            self._progress = None

    def _listen(self) -> None:
        for line in sys.stdin:
            self._wishes.put(Wish.STOP if line.strip().lower() in _STOPS else Wish.NEXT)
