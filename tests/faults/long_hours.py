"""Eight hours of inspection through the live engine, as fast as the machine goes.

A pretended microphone gives the sound of a whole day: recordings, a quiet room between them. Every
so many-th utterance is heard by the built-in ear as it is; of the others the ear is told what was
said, by a number in the lowest bits of their samples, so that thousands of different sentences go
through the same end-pointing, clips, reading, dialogue, journal and tones in minutes. All clocks of
the inspection are that of the sound.
"""

from __future__ import annotations

import ctypes
import math
import statistics
import tempfile
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from queue import Queue
from time import perf_counter, thread_time
from types import SimpleNamespace
from typing import Any
from unittest.mock import patch

import long_log
import psutil
from long_sound import Script, ToldEar

from voicelog.announce.announcer import open_announcer
from voicelog.capture.incoming import Incoming
from voicelog.capture.microphone import Microphone
from voicelog.capture.pretend import PretendLibrary
from voicelog.capture.rehearse import microphone_of
from voicelog.config.settings import Settings
from voicelog.domain.signal import Talk
from voicelog.journal.reading import verify
from voicelog.runtime import live
from voicelog.runtime.live import LiveEngine, Order
from voicelog.runtime.messages import Closed, Message, SoundEnded, Took
from voicelog.runtime.opening import open_the_ear


@dataclass
class Hour:
    """What was seen in one hour of the inspection.

    Args:
        utterances: taken in it.
        waits_ms: work from the block that ended an utterance to its tone, of the engine's thread.
        walls_ms: the same on the clock, what others did to the machine included.
        memory_mb: resident at its end, without what only the C library keeps for later.
        resident_mb: with that: it comes and goes in steps of 20 MB as the ear's large arrays do.
        files: open at its end.
    """

    utterances: int = 0
    waits_ms: list[float] = field(default_factory=list)
    walls_ms: list[float] = field(default_factory=list)
    memory_mb: float = 0.0
    resident_mb: float = 0.0
    files: int = 0

    @property
    def wait_ms(self) -> float:
        """The median."""
        return statistics.median(self.waits_ms) if self.waits_ms else 0.0


@dataclass
class Day:
    """What a whole day came to.

    Args:
        hours: one after another.
        said: utterances in the sound.
        by_ear: those among them that the built-in ear heard.
        wall_s: it took.
        files_after: still open when all was over, against before.
        problems: that verify found.
        lines: of the journal.
    """

    hours: list[Hour]
    said: int = 0
    by_ear: int = 0
    wall_s: float = 0.0
    files_after: int = 0
    problems: tuple[str, ...] = ()
    lines: int = 0


def day(hours: float, utterances: int, one_in: int, seed: int) -> Day:
    """An inspection of so many hours.

    Args:
        hours: of sound.
        utterances: said in them, evenly.
        one_in: every so many-th is heard by the built-in ear.
        seed: of the sentences.
    """
    script = Script(long_log.texts(utterances, seed), hours * 3600, one_in, seed)
    begun, files = perf_counter(), _files()
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(
            into=Path(folder), ear="built-in", second_ear="off", voice="none", talk=Talk.FINDINGS
        )
        found = _run(settings, script, math.ceil(hours))
        report = verify(found.log)
    return Day(
        found.hours, utterances, script.by_ear, perf_counter() - begun, _files() - files,
        report.problems, report.lines,
    )  # fmt: skip


class _Watched:
    """A source that notes when its newest block was handed over."""

    def __init__(self, source: Microphone) -> None:
        self._source, self.work_s, self.wall_s = source, 0.0, 0.0

    def read(self, timeout_s: float) -> Incoming | None:
        """The next thing that came in."""
        came = self._source.read(timeout_s)
        self.work_s, self.wall_s = thread_time(), perf_counter()
        return came

    def __getattr__(self, name: str) -> Any:
        return getattr(self._source, name)


@dataclass
class _Run:
    hours: list[Hour]
    log: Path


def _run(settings: Settings, script: Script, whole: int) -> _Run:
    library = PretendLibrary(script.sound(), speed=math.inf)
    source = _Watched(microphone_of(library))
    engine = LiveEngine(
        Order(settings, subject="long", rehearsal=True),
        source=lambda _announcer, _tell: source,
        announcer=lambda fault: open_announcer("none", settings.speaker, on_fault=fault),
    )
    hours, messages = [Hour()], Queue[Message]()

    def publish(message: Message) -> None:
        if isinstance(message, Took):
            _note(hours, source, library.now() if len(hours) < whole else 0.0)
        elif isinstance(message, SoundEnded | Closed):  # the rest would only lie in memory
            messages.put(message)

    with _clocks(library), patch.object(live, "open_the_ear", _told(script)):
        engine.start(publish)
        log = _until_closed(engine, messages)
    _end(hours[-1])
    return _Run(hours, log)


def _told(script: Script) -> Any:
    return lambda *asked: ToldEar(open_the_ear(*asked), script)


def _until_closed(engine: LiveEngine, messages: Queue[Message]) -> Path:
    while True:
        message = messages.get()
        if isinstance(message, SoundEnded):
            engine.stop()
        if isinstance(message, Closed):
            engine.join()
            if message.log is None:
                raise SystemExit(message.fault)
            return message.log


def _note(hours: list[Hour], source: _Watched, now_s: float) -> None:
    """Take note of an utterance that was just acknowledged, on the engine's thread."""
    if now_s >= 3600 * len(hours):
        _end(hours[-1])
        hours.append(Hour())
    hour = hours[-1]
    hour.utterances += 1
    hour.waits_ms.append(1e3 * (thread_time() - source.work_s))
    hour.walls_ms.append(1e3 * (perf_counter() - source.wall_s))


def _end(hour: Hour) -> None:
    hour.resident_mb, hour.files = _resident_mb(), _files()
    with suppress(OSError, AttributeError):  # a C library that has no such call
        ctypes.CDLL("libc.so.6").malloc_trim(0)
    hour.memory_mb = _resident_mb()
    told = f"{hour.utterances} utterances, {hour.wait_ms:.1f} ms, {hour.memory_mb:.0f} MB"
    print(f"an hour: {told}, {hour.files} files", flush=True)


def _resident_mb() -> float:
    return float(psutil.Process().memory_info().rss) / 1e6


def _files() -> int:
    return int(psutil.Process().num_fds())


def _clocks(library: PretendLibrary) -> Any:
    """The clocks of the journal, which go as the sound does."""
    now = SimpleNamespace(monotonic=library.now)
    then = patch("voicelog.journal.clock.time", now)
    wall = patch(
        "voicelog.journal.clock.utc_now",
        lambda: long_log.BEGUN + timedelta(seconds=library.now()),
    )
    return _Both(then, wall)


class _Both:
    def __init__(self, *patches: Any) -> None:
        self._patches = patches

    def __enter__(self) -> None:
        for one in self._patches:
            one.start()

    def __exit__(self, *_: object) -> None:
        for one in self._patches:
            one.stop()
