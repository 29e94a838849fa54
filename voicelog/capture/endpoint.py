"""Cutting a stream of sound into utterances.

Sound is judged in blocks of 32 ms. An utterance opens with the first block that is clearly speech,
reaches back over the pre-roll, and closes after a set silence. One in which too little speech was
found (a hammer tap, a burst of an air tool) is let go. One that grows too long is cut at its
quietest late moment, and the next clip goes on with the very next sample.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from voicelog.capture.level import level_dbfs
from voicelog.capture.noise import NoiseFloor
from voicelog.capture.voice import BLOCK, SileroDetector, VoiceDetector
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip

OPENS = 0.5
"""Speech probability that opens an utterance."""

HOLDS = 0.35
"""Speech probability that keeps it open: lower, so that a word's soft end is not lost."""

LEAST_SPEECH_S = 0.2
"""Speech an utterance must hold. The shortest spoken word of the vocabulary has more."""

POST_ROLL_S = 0.3
"""Silence kept after the last speech; the rest may become the next clip's pre-roll."""

CUT_WITHIN_S = 4.0
"""How far back from the length limit the quietest moment is looked for."""

PAUSE_BLOCKS = 5
"""Blocks over which a moment's level is taken (0.16 s): a pause has to beat the stop in a word."""

_BLOCK_BYTES = BLOCK * BYTES_PER_SAMPLE


@dataclass(frozen=True, slots=True)
class _Block:
    """A stretch of :data:`BLOCK` samples, fewer at the very end, and what it was taken for."""

    pcm: bytes
    speech: bool


class Endpointer:
    """Feed it sound, take utterances from it.

    Args:
        silence_s: silence that closes an utterance.
        preroll_s: sound kept from before its first speech, never again what the last clip holds.
        longest_s: length at which an utterance is cut, without losing or repeating a sample.
        detector: what tells speech from other sound; the packaged neural one when left out.
    """

    def __init__(
        self,
        *,
        silence_s: float = 0.7,
        preroll_s: float = 0.3,
        longest_s: float = 20.0,
        detector: VoiceDetector | None = None,
    ) -> None:
        self._detector = detector or SileroDetector()
        self._closing = max(1, _blocks(silence_s))
        self._preroll = _blocks(preroll_s)
        self._longest = max(PAUSE_BLOCKS + 1, int(longest_s * SAMPLE_RATE) // BLOCK)
        self._noise = NoiseFloor()
        self._waiting = bytearray()
        self._blocks: list[_Block] = []
        self._dropped = 0  # samples before the first of the blocks
        self._open = False
        self._continues = False  # the last clip was cut: this one goes on with its next sample
        self._noise_before_dbfs = self._noise.level_dbfs

    @property
    def speaking(self) -> bool:
        """True while an utterance is open that holds enough speech to be kept."""
        return self._open and self._is_kept()

    @property
    def noise_dbfs(self) -> float:
        """Level of the sound between utterances, in dB below full scale."""
        return self._noise.level_dbfs

    def feed(self, pcm: bytes) -> list[Clip]:
        """Take sound of any length; give the utterances it closed, in order.

        Args:
            pcm: 16 kHz mono signed 16-bit little-endian samples.
        """
        self._waiting += pcm
        return [clip for block in self._whole_blocks() for clip in self._take(block, block)]

    def finish(self) -> list[Clip]:
        """Close what is open at the end of the sound."""
        rest, self._waiting = bytes(self._waiting), bytearray()
        rest = rest[: len(rest) // BYTES_PER_SAMPLE * BYTES_PER_SAMPLE]
        clips = self._take(rest, rest.ljust(_BLOCK_BYTES, b"\0")) if rest else []
        return clips + (self._close() if self._open else [])

    def _whole_blocks(self) -> Iterator[bytes]:
        whole = len(self._waiting) // _BLOCK_BYTES * _BLOCK_BYTES
        blocks, self._waiting = bytes(self._waiting[:whole]), self._waiting[whole:]
        for at in range(0, whole, _BLOCK_BYTES):
            yield blocks[at : at + _BLOCK_BYTES]

    def _take(self, pcm: bytes, judged: bytes) -> list[Clip]:
        """Add a block to what is open, or wait for speech with it."""
        speech = self._detector.speech(judged) >= (HOLDS if self._open else OPENS)
        self._blocks.append(_Block(pcm, speech))
        if self._open:
            return self._go_on()
        if speech:
            self._open, self._noise_before_dbfs = True, self._noise.level_dbfs
        else:
            self._noise.take(level_dbfs(pcm))
            self._drop(len(self._blocks) - self._preroll)
        return []

    def _go_on(self) -> list[Clip]:
        """Close or cut the open utterance when it is time to."""
        size, after_speech = len(self._blocks), self._last_speech() + 1
        if size - after_speech >= self._closing:
            return self._close()
        if size < self._longest:
            return []
        earliest = max(size // 2, size - _blocks(CUT_WITHIN_S))
        return self._cut(earliest, after_speech) if after_speech > earliest else self._close()

    def _close(self) -> list[Clip]:
        """The open utterance up to a little after its last speech, if it holds enough of it."""
        end = min(len(self._blocks), self._last_speech() + 1 + _blocks(POST_ROLL_S))
        clips = [self._clip(end, cut=False)] if self._is_kept() else []
        if clips:
            self._drop(end)
        self._open = self._continues = False
        for block in self._blocks:
            if not block.speech:
                self._noise.take(level_dbfs(block.pcm))
        self._drop(len(self._blocks) - self._preroll)
        return clips

    def _cut(self, earliest: int, after_speech: int) -> list[Clip]:
        """Cut where it is quietest, at a place after which there is speech still to come."""
        places = range(earliest, after_speech)
        end = min(places, key=lambda place: (self._level_around(place), -place))
        clip = self._clip(end, cut=True)
        self._drop(end)
        self._continues = True
        return [clip]

    def _level_around(self, place: int) -> float:
        around = self._blocks[max(0, place - PAUSE_BLOCKS // 2) : place + PAUSE_BLOCKS // 2 + 1]
        return level_dbfs(b"".join(block.pcm for block in around))

    def _clip(self, end: int, *, cut: bool) -> Clip:
        """The first so many blocks as a clip."""
        blocks = self._blocks[:end]
        speech_end = max((n for n, block in enumerate(blocks, 1) if block.speech), default=end)
        pcm = b"".join(block.pcm for block in blocks)
        samples_to_speech_end = sum(len(b.pcm) for b in blocks[:speech_end]) // BYTES_PER_SAMPLE
        return Clip(
            pcm=pcm,
            start_s=self._dropped / SAMPLE_RATE,
            speech_end_s=(self._dropped + samples_to_speech_end) / SAMPLE_RATE,
            cut=cut,
            level_dbfs=level_dbfs(pcm),
            noise_dbfs=self._noise_before_dbfs,
        )

    def _last_speech(self) -> int:
        """Place of the last block of speech; -1 when there is none."""
        places = range(len(self._blocks) - 1, -1, -1)
        return next((place for place in places if self._blocks[place].speech), -1)

    def _is_kept(self) -> bool:
        speech = sum(block.speech for block in self._blocks)
        return speech >= (1 if self._continues else _blocks(LEAST_SPEECH_S))

    def _drop(self, count: int) -> None:
        if count > 0:
            self._dropped += sum(len(b.pcm) for b in self._blocks[:count]) // BYTES_PER_SAMPLE
            del self._blocks[:count]


def _blocks(seconds: float) -> int:
    """Whole blocks that cover so many seconds."""
    return math.ceil(seconds * SAMPLE_RATE / BLOCK)
