"""An ear that may fail without taking the inspection along: what was said is kept as sound, and can
be heard again later.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

from voicelog.domain.heard import Heard
from voicelog.recognise.port import Ear, Expected


class Unfailing:
    """Another ear, whose failures are told and are no words (an :class:`~.port.Ear`).

    Native code fails in its own ways (no memory, a graph that cannot be run); whatever it raises is
    no reason to lose the next sentence.

    Args:
        ear: which.
        told: called with the failure, once for each utterance.
    """

    def __init__(self, ear: Ear, told: Callable[[Exception], None]) -> None:
        self._ear, self._told = ear, told
        self._failed: Exception | None = None

    @property
    def engine(self) -> str:
        """Which kind of ear it is."""
        return self._ear.engine

    @property
    def model(self) -> str:
        """The model in use."""
        return self._ear.model

    def expect(self, expected: Expected) -> None:
        """Lean so from now on."""
        with suppress(Exception):  # it hears without, or tells with the utterance why not
            self._ear.expect(expected)

    def feed(self, pcm: bytes) -> None:
        """Take the next sound of the open utterance."""
        try:
            self._ear.feed(pcm)
        except Exception as failure:
            self._failed = failure

    def partial(self) -> str:
        """What the open utterance sounds like so far."""
        try:
            return self._ear.partial()
        except Exception as failure:
            self._failed = failure
            return ""

    def finish(self) -> Heard:
        """Close the utterance; no words where the ear fails."""
        failed, self._failed = self._failed, None
        if failed is None:
            try:
                return self._ear.finish()
            except Exception as failure:
                failed = failure
        self.forget()
        self._told(failed)
        return Heard((), self.engine, self.model)

    def forget(self) -> None:
        """Drop the open utterance unheard."""
        self._failed = None
        with suppress(Exception):
            self._ear.forget()

    def close(self) -> None:
        """Let go of the model."""
        self._ear.close()
