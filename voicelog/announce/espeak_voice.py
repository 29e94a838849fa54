"""The voice of the command ``espeak-ng`` (or its forerunner ``espeak``), where it is installed."""

from __future__ import annotations

import shutil
import subprocess
from typing import TYPE_CHECKING

from voicelog.announce.text import speakable
from voicelog.announce.voice import Spoken, even
from voicelog.errors import VoiceFault
from voicelog.tongue import to_word, worded

if TYPE_CHECKING:
    from numpy import int16
    from numpy.typing import NDArray

COMMANDS = ("espeak-ng", "espeak")
"""The first that is found is used."""

OPTIONS = ("--stdin", "--stdout", "-b", "1", "-v", "en-us", "-s", "140")
"""UTF-8 in, WAV out, English, slower than by itself (175 words a minute): it is listened to in noise."""

LONGEST_S = 20.0
"""A command that takes longer hangs."""

INSTALL = to_word("On Debian and its kin: apt install espeak-ng")

_RATE_AT, _CHUNK, _SIZE = 24, b"data", 4


def command() -> str:
    """The command's path.

    Raises:
        VoiceFault: it is not installed.
    """
    found = next((path for name in COMMANDS if (path := shutil.which(name))), None)
    if found is None:
        raise VoiceFault(worded("The command espeak-ng is not installed"), worded(INSTALL))
    return found


class EspeakVoice:
    """Speaks English; a new process for every sentence.

    Raises:
        VoiceFault: when the command is missing.
    """

    name = "espeak-ng"

    def __init__(self) -> None:
        self._command = command()

    def speak(self, text: str) -> Spoken:
        """The sound of any text, given on standard input and so never taken for an option.

        Raises:
            VoiceFault: when the command fails.
        """
        said = speakable(text)
        return _sound(self._run(said)) if said else even([], 22_050)

    def _run(self, text: str) -> bytes:
        try:
            done = subprocess.run(  # noqa: S603  (a fixed command without a shell)
                [self._command, *OPTIONS], input=text.encode(), capture_output=True, check=True,
                timeout=LONGEST_S,
            )  # fmt: skip
        except (OSError, subprocess.SubprocessError) as error:
            raise VoiceFault(
                worded("The command espeak-ng failed ({reason})", reason=type(error).__name__),
                worded('Try: {command} "left rear rail"', command=self._command),
            ) from error
        return done.stdout


def _sound(wav: bytes) -> Spoken:
    """A 16-bit mono WAV whose header, written to a pipe, does not know its length.

    Raises:
        VoiceFault: it is none.
    """
    import numpy as np

    at = wav.find(_CHUNK)
    if not wav.startswith(b"RIFF") or at < 0:
        raise VoiceFault(worded("The command espeak-ng gave no sound"), worded(INSTALL))
    data = wav[at + len(_CHUNK) + _SIZE :]
    samples: NDArray[int16] = np.frombuffer(data[: len(data) // 2 * 2], "<i2")
    rate_hz = int.from_bytes(wav[_RATE_AT : _RATE_AT + _SIZE], "little")
    return even(samples / np.float32(32768), rate_hz)
