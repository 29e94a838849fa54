"""A microphone as a :class:`~voicelog.capture.incoming.Source`.

What is lost is told, and a device that is lost is looked for until it is back.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext, suppress
from threading import Event, Lock

from voicelog.capture.asleep import LEAST_S, asleep_s
from voicelog.capture.devices import Device, bare_name, choose_input, inputs, portaudio, renew
from voicelog.capture.incoming import Back, Dropped, Ended, Gone, Incoming
from voicelog.capture.library import Library
from voicelog.capture.line import Line
from voicelog.capture.mute import MUTED_AFTER_S, Mute
from voicelog.capture.pace import Pace
from voicelog.errors import MicrophoneFault, VoicelogError
from voicelog.tongue import worded

ANOTHER_AFTER_S = 10.0
"""So long only the same device is taken again: a plug that was pulled by mistake is soon back, and
the microphone of a computer far from the lift is no help meanwhile."""


class Microphone:
    """Open from the start; read it from one thread, close it from any.

    PortAudio sees what was plugged in only when it is started anew, and for that every stream of
    the process has to be closed, those that play as well: ``alone`` takes care of that.

    Args:
        wanted: number of a device, or a part of its name; None means the system's.
        library: PortAudio, or what stands in for it.
        clock: monotonic seconds, for all times given.
        queue_s: sound that may wait for the reader; what comes on top is told as lost.
        silent_after_s: time without a callback after which the device counts as gone.
        look_every_s: how often a lost device is looked for.
        muted_after_s: digital silence after which it is told that the microphone may be muted.
        alone: entered before PortAudio is started anew; gives True when no stream but this one's is
            open until it is left, False to be asked again at the next look.
        asleep: seconds that the machine has slept so far; what was said meanwhile is told as lost.
        over: True once the sound that stands in for a microphone has come to its end, or raises
            what ended it; a real microphone has none.

    Raises:
        MicrophoneFault: there is no such device, or it cannot be opened.
    """

    def __init__(
        self,
        wanted: str | None = None,
        *,
        library: Library | None = None,
        clock: Callable[[], float] = time.monotonic,
        queue_s: float = 30.0,
        silent_after_s: float = 2.0,
        look_every_s: float = 1.0,
        muted_after_s: float = MUTED_AFTER_S,
        alone: Callable[[], AbstractContextManager[bool]] = lambda: nullcontext(True),
        asleep: Callable[[], float] = asleep_s,
        over: Callable[[], bool] = lambda: False,
    ) -> None:
        self._wanted, self._library, self._clock = wanted, library or portaudio(), clock
        self._queue_s, self._muted_after_s = queue_s, muted_after_s
        self._silent_after_s, self._look_every_s = silent_after_s, look_every_s
        self._alone, self._over = alone, over
        self._asleep, self._slept_s = asleep, asleep()
        self._closed, self._guard = Event(), Lock()
        self._pending: deque[Incoming | VoicelogError] = deque()
        self._ended = False
        self._silent_since_s: float | None = None  # lost, and not heard from again since
        self._noticed_at_s = 0.0
        self._look_at_s = 0.0
        self._line: Line | None = None
        self._open(choose_input(wanted, self._library))

    @property
    def device(self) -> str:
        """Its name, as the system calls it."""
        return self._device.name

    @property
    def waiting_s(self) -> float:
        """Sound that has come in and waits to be read, in seconds."""
        line = self._line
        return line.waiting_s if line is not None else 0.0

    def now(self) -> float:
        """Seconds on the clock that times what comes in."""
        return self._clock()

    def read(self, timeout_s: float) -> Incoming | None:
        """The next thing that came in, in order; None when nothing did in that time.

        A microphone that is muted is told as :class:`Gone`, and its zeros go on coming; if it is
        then pulled out, there is a second :class:`Gone` before the :class:`Back`.

        Raises:
            VoicelogError: what ended the sound that stands in for a microphone.
        """
        until_s = self._clock() + timeout_s
        while not self._pending and self._gather(until_s - self._clock()):
            pass
        if not self._pending:
            return None
        came = self._pending.popleft()
        if isinstance(came, VoicelogError):
            raise came
        return came

    def close(self) -> None:
        """Let the device go; from then on :meth:`read` gives :class:`Ended`."""
        self._closed.set()
        with self._guard:
            if self._line is not None:
                self._line.close()

    def _gather(self, left_s: float) -> bool:
        """Wait for something to tell; True when it is worth to wait again at once."""
        if self._ended or self._closed.is_set():
            self._pending.append(Ended())
            return False
        self._waken()
        if self._line is None:
            self._look(left_s)
            return False
        block = self._line.intake.next(left_s)
        if block is None:
            if why := self._line.trouble(self._silent_after_s):
                self._part(self._line, why)
            return self._ended
        self._welcome(block.at_s)
        noticed = (self._mute.take(block.is_silent, block.at_s), self._pace.take(block))
        self._pending.extend(one for one in noticed if one is not None)
        self._pending.extend(self._line.heard(block))
        return True

    def _waken(self) -> None:
        """Tell what was missed while the machine slept, of which its clock may know nothing."""
        slept_s = self._asleep() - self._slept_s
        if slept_s >= LEAST_S:
            self._slept_s += slept_s
            self._pending.append(Dropped(slept_s, "the machine was asleep"))

    def _welcome(self, at_s: float) -> None:
        """The first sound since the device was lost."""
        if self._silent_since_s is not None:
            self._pending.append(Back(self.device, at_s - self._silent_since_s))
            self._silent_since_s = None

    def _part(self, line: Line, why: str) -> None:
        """The stream is over: tell what is left of it, and whether to look for the device."""
        with self._guard:
            line.close()
            self._line = None
        self._pending.extend(line.finish())
        try:
            self._ended = self._over()
        except VoicelogError as fault:
            self._ended = True
            self._pending.append(fault)
        if not self._ended and self._silent_since_s is None and not self._closed.is_set():
            self._silent_since_s, self._noticed_at_s = line.intake.last_at_s, self._clock()
            self._pending.append(Gone(self.device, why))
        self._look_at_s = self._clock()

    def _look(self, left_s: float) -> None:
        """See whether the device is there again, when it is time to."""
        wait_s = self._look_at_s - self._clock()
        if wait_s > 0.0:
            self._closed.wait(min(wait_s, left_s))
            return
        self._look_at_s = self._clock() + self._look_every_s
        with suppress(MicrophoneFault), self._alone() as alone:  # the next look is soon
            if alone:
                renew(self._library)
                self._open(self._again())

    def _again(self) -> Device:
        """The device as it is now, wherever it was plugged in; another one only after a while."""
        lost, found = self._device, inputs(self._library)
        for device in found:
            if (bare_name(device.name), device.system) == (bare_name(lost.name), lost.system):
                return device
        if self._clock() - self._noticed_at_s < ANOTHER_AFTER_S:
            raise MicrophoneFault(
                worded("The microphone {name} is not there", name=repr(lost.name))
            )
        return choose_input(self._wanted, self._library)

    def _open(self, device: Device) -> None:
        line = Line(device, self._library, self._clock, self._queue_s)
        with self._guard:
            self._device, self._line = device, line
            self._mute = Mute(device.name, self._muted_after_s)
            self._pace = Pace(device.name, line.rate_hz)
            if self._closed.is_set():
                line.close()
