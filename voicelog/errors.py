"""Every failure a person can meet: one message, one next step, one exit code.

Anything raised on purpose derives from :class:`VoicelogError`; the command line prints it as one
line on standard error and leaves with ``exit_code``. Anything else that escapes is a defect.
"""

from __future__ import annotations

import errno

from voicelog.tongue import NOTHING, Worded, as_it_is, joined, worded

_UNUSABLE = frozenset(
    (errno.ENAMETOOLONG, errno.ELOOP, errno.ENOTDIR, errno.EISDIR, errno.ENOENT, errno.EACCES)
)
"""What the system says of a path that cannot be meant, or may not be read."""


class VoicelogError(Exception):
    """Base of all failures that are told to a person.

    Args:
        message: what went wrong, in one sentence without a final full stop.
        hint: the next step to take, in one sentence; empty when there is none.

    Both come from the catalogue (:mod:`voicelog.tongue`), so that they can be translated.
    """

    exit_code = 1

    def __init__(self, message: Worded, hint: Worded = NOTHING) -> None:
        super().__init__(message)
        self.message = as_it_is(message)
        self.hint = as_it_is(hint)

    @property
    def told(self) -> Worded:
        """Message and next step."""
        if not self.hint:
            return self.message
        return worded("{message}. {hint}", message=self.message, hint=self.hint)

    def __str__(self) -> Worded:
        return self.told


class UsageFault(VoicelogError):
    """The command was asked for something it does not have."""

    exit_code = 2


class SofteningFault(UsageFault):
    """An entry that is unsafe would no longer be, and nobody has said why."""


class InputFault(VoicelogError):
    """A file or stream given as input cannot be used."""

    exit_code = 3


class GrammarFault(VoicelogError):
    """A grammar or settings file is wrong; ``faults`` lists every fault found, one line each."""

    exit_code = 4

    def __init__(
        self, message: Worded, hint: Worded = NOTHING, faults: tuple[str, ...] = ()
    ) -> None:
        super().__init__(message, hint)
        self.faults = faults

    @property
    def told(self) -> Worded:
        """Message, next step, and below them every fault."""
        return joined("\n", (super().told, *(joined("  ", ("", one)) for one in self.faults)))


class LogFault(VoicelogError):
    """A log is damaged, or written by a newer version."""

    exit_code = 5


class EarFault(VoicelogError):
    """No recogniser can be used, or its model is missing or altered."""

    exit_code = 6


class MicrophoneFault(EarFault):
    """There is no such microphone, or it cannot be opened."""


class VoiceFault(VoicelogError):
    """Nothing can be said aloud: no voice, or no speaker."""

    exit_code = 6


class StorageFault(VoicelogError):
    """The disk refused a write (full, read-only, failing)."""

    exit_code = 7


class LockedFault(VoicelogError):
    """Another process is writing this log."""

    exit_code = 8


def refusal(fault: OSError) -> VoicelogError:
    """What the system refused, for people: without its number, the path no longer than it helps."""
    told = worded("The system refused ({why})", why=fault.strerror or type(fault).__name__)
    path = str(fault.filename or "")
    if path:
        shown = path if len(path) <= _LONGEST_PATH else path[:_LONGEST_PATH] + "…"
        told = worded("{fault}: {path}", fault=told, path=shown)
    if fault.errno in _UNUSABLE:
        return InputFault(told, worded("Check the path"))
    return StorageFault(told, worded("Make room, or take another folder"))


_LONGEST_PATH = 80
"""Characters of a path that are told; a longer one was never meant."""
