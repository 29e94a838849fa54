"""Make the clips of this folder: run it by hand, with ``pip install hibari-tts==0.2.1`` and soxr.

All speech is synthetic: no person was recorded. Voice: ``heart`` of hibari-tts (Apache-2.0).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import soundfile
import soxr
from hibari import Hibari

CLIPS = {
    "brake_line": ("brake line, surface rust along the axle", 14),
    "bulkhead": ("bulkhead, hole the size of a dime", 23),
    "sill": ("passenger side sill, blistering paint", 31),
}
"""File name to what is said and the seed of the voice's noise."""

LEVEL = 0.05
"""Root mean square to which every clip is brought."""


def make(folder: Path) -> None:
    """Write every clip as 16 kHz FLAC."""
    voice = Hibari()
    for name, (text, seed) in CLIPS.items():
        sound = soxr.resample(voice(text, seed=seed), 24_000, 16_000)
        sound = np.clip(sound * (LEVEL / np.sqrt(np.mean(sound**2))), -1.0, 1.0)
        soundfile.write(folder / f"{name}.flac", sound, 16_000)


if __name__ == "__main__":
    make(Path(__file__).parent)
