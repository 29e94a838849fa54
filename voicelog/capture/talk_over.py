"""Noticing that somebody talks while the tool itself does.

The tool is deaf to its own voice: what comes in while it speaks is not made into entries. A person
who talks over it should still not be lost. The echo of the tool's voice is learned from what comes
in while it speaks; speech that is clearly louder than that, for a moment, is a person.
"""

from __future__ import annotations

from collections import deque

from voicelog.capture.level import level_dbfs
from voicelog.capture.voice import BLOCK, SileroDetector, VoiceDetector
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE

LOUDER_DB = 10.0
"""How far above the loudest usual echo a person has to be: ours."""

SPEECH = 0.5
"""Chance of speech from which a block counts."""

BLOCKS, NEEDED = 10, 8
"""So many of the last blocks (0.32 s) must be speech and loud: longer than a tap or a click."""

LEARNED_BLOCKS = 60
"""Blocks of its own voice (1.9 s) after which the echo counts as known; before, nobody is noticed
by level, for the first loud word of the tool would be taken for a person."""

KEPT_S = 1.0
"""Sound kept from before the moment of noticing, so that the first word is not lost."""

_BLOCK_BYTES = BLOCK * BYTES_PER_SAMPLE
_KEPT_BLOCKS = int(KEPT_S * SAMPLE_RATE) // BLOCK


class TalkOver:
    """Feed it what comes in while the tool's words are heard; what comes in while they are only
    being made is no echo, and is nothing to learn from.

    Args:
        detector: what tells speech from other sound; the packaged neural one when left out.
    """

    def __init__(self, *, detector: VoiceDetector | None = None) -> None:
        self._detector = detector or SileroDetector()
        self._waiting = bytearray()
        self._kept: deque[bytes] = deque(maxlen=_KEPT_BLOCKS)
        self._loud: deque[bool] = deque(maxlen=BLOCKS)
        self._echo: deque[float] = deque(maxlen=2_000)

    def feed(self, pcm: bytes) -> bytes:
        """Take 16 kHz mono s16le sound.

        Returns:
            Empty, or the last second of sound once a person is heard in it.
        """
        self._waiting += pcm
        while len(self._waiting) >= _BLOCK_BYTES:
            block, self._waiting = bytes(self._waiting[:_BLOCK_BYTES]), self._waiting[_BLOCK_BYTES:]
            if self._is_a_person(block):
                found = b"".join(self._kept) + bytes(self._waiting)
                self.reset()
                return found
        return b""

    def reset(self) -> None:
        """The tool has fallen silent; what was learned of its echo stays."""
        self._detector.reset()
        self._waiting.clear()
        self._kept.clear()
        self._loud.clear()

    def _is_a_person(self, block: bytes) -> bool:
        self._kept.append(block)
        level = level_dbfs(block)
        louder = level > self._echo_dbfs() + LOUDER_DB
        speech = self._detector.speech(block)  # of every block: it remembers what came before
        self._loud.append(louder and speech >= SPEECH)
        if not louder:
            self._echo.append(level)
        return sum(self._loud) >= NEEDED

    def _echo_dbfs(self) -> float:
        """The level that 19 of 20 blocks of its own voice stay below."""
        if len(self._echo) < LEARNED_BLOCKS:
            return 0.0
        return sorted(self._echo)[int(len(self._echo) * 0.95)]
