"""What a live inspection tells, as lines of text."""

from __future__ import annotations

from rich.console import Console

from voicelog.cli.show import show_end, show_event
from voicelog.cli.wording import finding_lines
from voicelog.domain.inert import inert
from voicelog.domain.signal import Signal
from voicelog.domain.zone import ZoneMap
from voicelog.runtime.event import Event
from voicelog.runtime.messages import (
    Closed,
    HeardAgain,
    Noticed,
    Opened,
    State,
    StateChanged,
    TalkChanged,
    Told,
    Took,
)
from voicelog.runtime.vehicles import vehicle_in
from voicelog.tongue import to_word, worded

_TOLD = {
    State.STARTING: to_word("Starting"),
    State.CAUTIONS: to_word('Before you begin: say "affirm", or type a'),
    State.LISTENING: to_word("Listening"),
    State.STANDING_BY: to_word("Standing by: nothing is kept"),
    State.HELD: to_word("Not listening: the pedal is up; Enter moves it"),
    State.TOO_LOUD: to_word("Too loud to hear"),
    State.NO_MICROPHONE: to_word("No microphone"),
    State.STORAGE_REFUSED: to_word("The disk refuses"),
}
"""States worth a line. What changes with every utterance is left out: a screen reader would never
be done with it."""


class PlainLines:
    """Prints messages, each at most once and in order.

    Args:
        out: where to.
    """

    def __init__(self, out: Console) -> None:
        self._out = out
        self._opened: Opened | None = None
        self._last = ""
        self._before = False
        self._taken: Event | None = None

    def show(self, message: object) -> None:
        """Print what a message tells, if it is worth a line."""
        match message:
            case Opened():
                self._open(message)
            case StateChanged():
                self._state(message)
            case Took() if self._opened is not None:
                self._last, self._taken = "", message.event
                show_event(
                    self._out, message.event, self._opened.zone_map, resume=self._opened.resume
                )
            case HeardAgain() if self._opened is not None:
                self._hear_again(message, self._opened.zone_map)
            case Told():
                self._tell(message)
            case TalkChanged(talk):
                self._line("[" + worded("Says aloud: {talk}", talk=talk) + "]")
            case Noticed(text):
                self._line(f"! {text}")
            case Closed():
                self._end(message)
            case _:
                pass

    def _hear_again(self, again: HeardAgain, zone_map: ZoneMap) -> None:
        """A second ear has put entries in doubt, or out of it."""
        for finding in again.opined.findings:
            for line in finding_lines(finding, zone_map):
                self._out.print(line)

    def _tell(self, told: Told) -> None:
        """What is said after an utterance is about that one, everything else stands by itself."""
        about, self._taken = self._taken, None
        if self._is_worth_a_line(told, about):
            self._line(f"  {'?' if told.question else '>'} {told.text}")

    def _is_worth_a_line(self, told: Told, about: Event | None) -> bool:
        """Questions, what was asked for, and what became of a question where no entry tells it; the
        cautions have their lines already.
        """
        cautions = self._opened.cautions if self._opened is not None else ()
        if cautions and told.text.startswith(cautions[0]):
            return False
        if not told.text or told.question or told.signal is None:
            return bool(told.text)
        if about is None:
            return told.signal is Signal.DOUBTFUL
        return bool(about.turn.answered) and not about.findings

    def _open(self, opened: Opened) -> None:
        self._opened = opened
        begun = worded("Going on with") if opened.resumed else worded("Inspection")
        named = f": {opened.subject}" if opened.subject else ""
        self._line(worded("{begun}{named}. Log: {log}", begun=begun, named=named, log=opened.log))
        self._line(
            worded(
                "Ear: {ear}. Microphone: {device}. Type ? and Enter for keys.",
                ear=opened.ear,
                device=opened.device,
            )
        )
        for caution in opened.cautions:
            self._line(f"  * {caution}")

    def _state(self, changed: StateChanged) -> None:
        """Listening is told once after something else was, cautions once, the rest as it changes."""
        told: str = worded(_TOLD[changed.state]) if changed.state in _TOLD else ""
        if changed.state is State.CAUTIONS:
            told, self._before = ("" if self._before else told), True
        line = f"[{told}] {changed.detail}".rstrip()
        if told and line != self._last:
            self._last = line
            self._line(line)

    def _end(self, closed: Closed) -> None:
        if closed.inspection is not None and self._opened is not None:
            show_end(
                self._out, closed.inspection, self._opened.zone_map, log=closed.log, export=None,
                vehicle=vehicle_in(closed.log, closed.inspection) if closed.log else None,
            )  # fmt: skip

    def _line(self, text: str) -> None:
        self._out.print(inert(text), markup=False, highlight=False)
