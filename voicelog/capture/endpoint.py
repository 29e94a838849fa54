"""Cutting a stream of sound into utterances.

Sound is judged in blocks of 32 ms. An utterance opens with the first block that is clearly speech,
reaches back over the pre-roll, and closes after a set silence. One in which too little speech was
found (a hammer tap, a burst of an air tool) is let go. One that grows too long is cut at its
quietest late moment, and the next clip goes on with the very next sample.
"""

from __future__ import annotations

from collections.abc import Iterator

from voicelog.capture.keeping import SURE, is_speech
from voicelog.capture.level import level_dbfs
from voicelog.capture.noise import NoiseFloor
from voicelog.capture.stretch import PAUSE_BLOCKS, Block, Stretch, blocks
from voicelog.capture.voice import BLOCK, SileroDetector, VoiceDetector
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip

OPENS = 0.5
"""Speech probability that opens an utterance."""

HOLDS = 0.35
"""Speech probability that keeps it open: lower, so that a word's soft end is not lost."""

POST_ROLL_S = 0.3
"""Silence kept after the last speech; the rest may become the next clip's pre-roll."""

PAUSING_BLOCKS = 2
"""Blocks without speech (64 ms) after which somebody pauses: longer than the stop in a word."""

CUT_WITHIN_S = 4.0
"""How far back from the length limit the quietest moment is looked for."""

_BLOCK_BYTES = BLOCK * BYTES_PER_SAMPLE


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
        self._closing = max(1, blocks(silence_s))
        self._preroll = blocks(preroll_s)
        self._longest = max(PAUSE_BLOCKS + 1, int(longest_s * SAMPLE_RATE) // BLOCK)
        self._noise = NoiseFloor()
        self._waiting = bytearray()
        self._blocks = Stretch()
        self._guess: tuple[tuple[int, int], Clip] | None = None
        self._open = False
        self._continues = False  # the last clip was cut: this one goes on with its next sample
        self._noise_before_dbfs = self._noise.level_dbfs

    @property
    def speaking(self) -> bool:
        """True while an utterance is open that holds enough speech to be kept."""
        return self._open and self._is_kept()

    @property
    def is_open(self) -> bool:
        """True while something is open that may become an utterance, or come to nothing."""
        return self._open

    @property
    def pausing(self) -> bool:
        """True while an utterance is open in which nobody has spoken for a moment."""
        return self._open and len(self._blocks) - self._blocks.after_speech() > PAUSING_BLOCKS

    def open_pcm(self) -> bytes:
        """The sound of the open utterance so far, pre-roll included; empty when :attr:`speaking`
        is not true. It is put together anew at every call: for a look twice a second.
        """
        return self._blocks.pcm if self.speaking else b""

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

    def gap(self, lost_s: float = 0.0) -> list[Clip]:
        """Sound is missing here: close what is open, and join nothing across it.

        Args:
            lost_s: how much; what comes next is that much later in the source.
        """
        clips = self.finish()
        self._blocks.skip(lost_s)
        self._detector.reset()
        return clips

    def likely(self) -> Clip | None:
        """The clip that :meth:`feed` will close if no more speech comes.

        It is known as soon as its post-roll has passed, while the closing silence is still waited
        for, so that it can be made sense of meanwhile. None before that, and where the length limit
        would cut it first. As long as the guess stands, the very same object is given.
        """
        after_speech = self._blocks.after_speech()
        end = after_speech + blocks(POST_ROLL_S)
        if not self.speaking or len(self._blocks) < end or self._is_cut_before(after_speech):
            return None
        key = (self._blocks.start, end)
        if self._guess is None or self._guess[0] != key:
            self._guess = key, self._clip(end, cut=False)
        return self._guess[1]

    def _is_cut_before(self, after_speech: int) -> bool:
        """Will the length limit be reached before the closing silence is over, and cut?"""
        return after_speech + self._closing > self._longest and after_speech > self._earliest(
            self._longest
        )

    def _whole_blocks(self) -> Iterator[bytes]:
        whole = len(self._waiting) // _BLOCK_BYTES * _BLOCK_BYTES
        blocks, self._waiting = bytes(self._waiting[:whole]), self._waiting[whole:]
        for at in range(0, whole, _BLOCK_BYTES):
            yield blocks[at : at + _BLOCK_BYTES]

    def _take(self, pcm: bytes, judged: bytes) -> list[Clip]:
        """Add a block to what is open, or wait for speech with it."""
        chance = self._detector.speech(judged)
        speech = chance >= (HOLDS if self._open else OPENS)
        level = level_dbfs(pcm)
        self._blocks.add(Block(pcm, speech, speech and chance >= SURE, level))
        if self._open:
            return self._go_on()
        if speech:
            self._open, self._noise_before_dbfs = True, self._noise.level_dbfs
        else:
            self._noise.take(level)
            self._blocks.drop(len(self._blocks) - self._preroll)
        return []

    def _go_on(self) -> list[Clip]:
        """Close or cut the open utterance when it is time to."""
        size, after_speech = len(self._blocks), self._blocks.after_speech()
        if size - after_speech >= self._closing:
            return self._close()
        if size < self._longest:
            return []
        earliest = self._earliest(size)
        return self._cut(earliest, after_speech) if after_speech > earliest else self._close()

    def _earliest(self, size: int) -> int:
        """The first place at which an utterance of so many blocks may be cut."""
        return max(size // 2, size - blocks(CUT_WITHIN_S))

    def _close(self) -> list[Clip]:
        """The open utterance up to a little after its last speech, if it holds enough of it."""
        end = min(len(self._blocks), self._blocks.after_speech() + blocks(POST_ROLL_S))
        clips = [self._clip(end, cut=False)] if self._is_kept() else []
        if clips:
            self._blocks.drop(end)
        self._open = self._continues = False
        for block in self._blocks.blocks:
            if not block.speech:
                self._noise.take(block.level_dbfs)
        self._blocks.drop(len(self._blocks) - self._preroll)
        return clips

    def _cut(self, earliest: int, after_speech: int) -> list[Clip]:
        """Cut where it is quietest, at a place after which there is speech still to come."""
        end = self._blocks.quietest(range(earliest, after_speech))
        clip = self._clip(end, cut=True)
        self._blocks.drop(end)
        self._continues = True
        return [clip]

    def _clip(self, end: int, *, cut: bool) -> Clip:
        return self._blocks.clip(end, cut=cut, noise_dbfs=self._noise_before_dbfs)

    def _is_kept(self) -> bool:
        if self._continues:
            return self._blocks.speech_blocks() > 0
        return is_speech(self._blocks, self._noise_before_dbfs)
