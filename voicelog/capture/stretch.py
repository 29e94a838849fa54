"""The last stretch of a stream of sound, block by block, with what each block was taken for."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import fmean

from voicelog.capture.level import level_dbfs
from voicelog.capture.voice import BLOCK
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip

PAUSE_BLOCKS = 5
"""Blocks over which a moment's level is taken (0.16 s): a pause has to beat the stop in a word."""


@dataclass(frozen=True, slots=True)
class Block:
    """A stretch of 512 samples, fewer at the very end, and what it was taken for.

    Args:
        pcm: its sound.
        speech: taken for speech.
        sure: taken for speech without much doubt.
        level_dbfs: root mean square.
    """

    pcm: bytes
    speech: bool
    sure: bool
    level_dbfs: float


class Stretch:
    """Blocks that follow each other, and where the first of them lies in the source."""

    def __init__(self) -> None:
        self.blocks: list[Block] = []
        self._dropped = 0  # samples before the first of the blocks

    def __len__(self) -> int:
        return len(self.blocks)

    @property
    def start(self) -> int:
        """Samples of the source before the first block."""
        return self._dropped

    @property
    def pcm(self) -> bytes:
        """The sound of all blocks."""
        return b"".join(block.pcm for block in self.blocks)

    def add(self, block: Block) -> None:
        """The next block."""
        self.blocks.append(block)

    def drop(self, count: int) -> None:
        """Forget so many blocks from the front."""
        if count > 0:
            self._dropped += sum(len(b.pcm) for b in self.blocks[:count]) // BYTES_PER_SAMPLE
            del self.blocks[:count]

    def skip(self, seconds: float) -> None:
        """Forget all blocks, and count so much sound of the source that was never given."""
        self.drop(len(self.blocks))
        self._dropped += round(seconds * SAMPLE_RATE)

    def speech_blocks(self) -> int:
        """How many blocks were taken for speech."""
        return sum(block.speech for block in self.blocks)

    def sure_blocks(self) -> int:
        """How many blocks were taken for speech without much doubt."""
        return sum(block.sure for block in self.blocks)

    def speech_dbfs(self) -> float:
        """Mean level of the blocks that were taken for speech, in dB."""
        return fmean(block.level_dbfs for block in self.blocks if block.speech)

    def after_speech(self) -> int:
        """Place after the last block of speech; 0 when there is none."""
        places = range(len(self.blocks), 0, -1)
        return next((place for place in places if self.blocks[place - 1].speech), 0)

    def quietest(self, places: range) -> int:
        """The place around which it is quietest, the latest of equals."""
        return min(places, key=lambda place: (self._level_around(place), -place))

    def clip(self, end: int, *, cut: bool, noise_dbfs: float) -> Clip:
        """The first so many blocks as a clip."""
        blocks = self.blocks[:end]
        speech_end = max((n for n, block in enumerate(blocks, 1) if block.speech), default=end)
        pcm = b"".join(block.pcm for block in blocks)
        samples_to_speech_end = sum(len(b.pcm) for b in blocks[:speech_end]) // BYTES_PER_SAMPLE
        return Clip(
            pcm=pcm,
            start_s=self._dropped / SAMPLE_RATE,
            speech_end_s=(self._dropped + samples_to_speech_end) / SAMPLE_RATE,
            cut=cut,
            level_dbfs=level_dbfs(pcm),
            noise_dbfs=noise_dbfs,
        )

    def _level_around(self, place: int) -> float:
        around = self.blocks[max(0, place - PAUSE_BLOCKS // 2) : place + PAUSE_BLOCKS // 2 + 1]
        return level_dbfs(b"".join(block.pcm for block in around))


def blocks(seconds: float) -> int:
    """Whole blocks that cover so many seconds."""
    return math.ceil(seconds * SAMPLE_RATE / BLOCK)
