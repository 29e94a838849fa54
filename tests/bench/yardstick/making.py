"""Speaking the speech set and the long sound, in two processes."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from yardstick.listening import CLIPS, STREAMS
from yardstick.speech_set import Spoken, clip_file
from yardstick.streams import Caught, chatter, noise_alone


@dataclass(frozen=True, slots=True)
class Sound:
    """The sound of a part.

    Args:
        files: of the utterances, by their keys.
        chatter: what the end-pointer caught of shop talk and radio.
        noise: what it caught of noise alone.
    """

    files: dict[str, Path]
    chatter: list[Caught]
    noise: list[Caught]

    def all_files(self) -> dict[str, Path]:
        """Every clip that an ear has to hear."""
        return self.files | {c.key: c.file for c in (*self.chatter, *self.noise)}


def sound_of(
    part: str,
    spoken: Sequence[Spoken],
    folder: Path,
    step: Callable[[], None],
    *,
    chatter_minutes: int,
    noise_minutes: int,
    processes: int = 2,
) -> Sound:
    """Make what is not there yet.

    Args:
        part: ``tuning`` or ``kept out``.
        spoken: the utterances.
        folder: where all sound is kept.
        step: called for each utterance.
        chatter_minutes: how much shop talk and radio; 0 for none.
        noise_minutes: how much noise alone; 0 for none.
        processes: how many work side by side.
    """
    clips, long = folder / CLIPS, folder / STREAMS
    told = [list(group) for _, group in groupby(spoken, key=lambda s: (s.text, s.voice))]
    with multiprocessing.get_context("spawn").Pool(processes) as pool:
        talk = pool.apply_async(chatter, (part, chatter_minutes, long)) if chatter_minutes else None
        noise = (
            pool.apply_async(noise_alone, (part, noise_minutes, long)) if noise_minutes else None
        )
        files: dict[str, Path] = {}
        for made in pool.imap_unordered(_speak, [(group, clips) for group in told]):
            files |= made
            for _ in made:
                step()
        return Sound(files, talk.get() if talk else [], noise.get() if noise else [])


def _speak(work: tuple[Sequence[Spoken], Path]) -> dict[str, Path]:
    """One text in one voice, under every condition."""
    group, folder = work
    return {spoken.key: clip_file(spoken, folder) for spoken in group}
