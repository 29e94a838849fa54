"""Recordings through a session: endpointing, hearing, one event for each utterance."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.source import read_audio
from voicelog.config.settings import Settings
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE
from voicelog.runtime.event import Event
from voicelog.runtime.session import Session

Progress = Callable[[float, float | None], None]


def hear_blocks(
    session: Session, blocks: Iterable[bytes], settings: Settings, *, offset_s: float = 0.0
) -> Iterator[Event]:
    """One event an utterance, as soon as it ends; at most one utterance of sound is held.

    Args:
        session: with an ear.
        blocks: 16 kHz mono 16-bit sound.
        settings: how utterances are told apart.
        offset_s: where the sound begins, in seconds of the inspection.
    """
    endpointer = Endpointer(
        silence_s=settings.silence_s, preroll_s=settings.preroll_s, longest_s=settings.longest_s
    )
    for block in blocks:
        for clip in endpointer.feed(block):
            yield session.hear(clip, offset_s=offset_s)
    for clip in endpointer.finish():
        yield session.hear(clip, offset_s=offset_s)


def hear_files(
    session: Session,
    paths: Iterable[Path],
    settings: Settings,
    *,
    progress: Callable[[Path], Progress | None] = lambda _path: None,
) -> Iterator[Event]:
    """The files one after another, as one inspection; what was heard before a bad file stays.

    Raises:
        InputFault: a file cannot be read to its end; everything before that was heard.
    """
    offset_s = 0.0
    for path in paths:
        counted = _Counted(read_audio(path, progress=progress(path)))
        yield from _to_the_end(session, counted, settings, offset_s)
        offset_s += counted.seconds


def _to_the_end(
    session: Session, counted: _Counted, settings: Settings, offset_s: float
) -> Iterator[Event]:
    """Hear what a broken file still gave before its fault is told."""
    faults: list[Exception] = []

    def until_fault() -> Iterator[bytes]:
        try:
            yield from counted
        except Exception as fault:
            faults.append(fault)

    yield from hear_blocks(session, until_fault(), settings, offset_s=offset_s)
    if faults:
        raise faults[0]


class _Counted:
    """Blocks with their length counted."""

    def __init__(self, blocks: Iterable[bytes]) -> None:
        self._blocks, self._samples = blocks, 0

    def __iter__(self) -> Iterator[bytes]:
        for block in self._blocks:
            self._samples += len(block) // BYTES_PER_SAMPLE
            yield block

    @property
    def seconds(self) -> float:
        """Length so far."""
        return self._samples / SAMPLE_RATE
