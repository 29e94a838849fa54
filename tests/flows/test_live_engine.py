"""The live engine on recorded speech, through a pretended device and the real ear."""

from __future__ import annotations

import math
from pathlib import Path
from queue import Queue

import pytest

from voicelog.config.data import samples_dir
from voicelog.config.settings import Settings
from voicelog.domain.signal import Talk
from voicelog.errors import LockedFault
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.launching import Wishes, launch
from voicelog.runtime.live import LiveEngine
from voicelog.runtime.logs import open_log
from voicelog.runtime.messages import (
    Action,
    Closed,
    Message,
    Opened,
    Partial,
    SoundEnded,
    Took,
)

TAKEN = ("d01", "d05", "d07", "d09")
"""Recordings without noise, each with a place of its own."""

Entry = tuple[str, ...]


def settings_for(folder: Path) -> Settings:
    """The built-in ear, no voice, logs beside the test."""
    return Settings(into=folder, ear="built-in", voice="none", talk=Talk.TONES)


def recordings(*names: str) -> tuple[Path, ...]:
    """Bundled recordings by their ids."""
    return tuple(samples_dir() / f"{name}.flac" for name in names)


def run_to_the_end(engine: LiveEngine, *actions: Action) -> list[Message]:
    """All messages; what is asked for comes once the sound is over, then it is stopped."""
    messages: Queue[Message] = Queue()
    engine.start(messages.put)
    seen: list[Message] = []
    while not (seen and isinstance(seen[-1], Closed)):
        seen.append(messages.get(timeout=60))
        if isinstance(seen[-1], SoundEnded):
            for action in actions:
                engine.act(action)
            engine.stop()
    assert engine.join(10)
    return seen


def entries_of(messages: list[Message]) -> list[Entry]:
    """Zone, side and condition of what stands at the end."""
    closed = messages[-1]
    assert isinstance(closed, Closed)
    assert closed.inspection is not None
    names = ("zone", "side", "condition")
    return [
        tuple(str(f.entry.slots.get(name, "")) for name in names) for f in closed.inspection.live
    ]


def rehearsed(folder: Path, *names: str, resume: str = "") -> list[Message]:
    """These recordings as one inspection, as fast as they can be read."""
    wishes = Wishes(rehearse=True, recordings=recordings(*names), speed=math.inf, resume=resume)
    return run_to_the_end(launch(settings_for(folder), wishes))


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, list[Message]]:
    """An inspection that was stopped: its folder's parent, and what it told."""
    folder = tmp_path_factory.mktemp("live")
    return folder, rehearsed(folder, *TAKEN)


def log_of(messages: list[Message]) -> Path:
    """Where the inspection was kept."""
    return next(m.log for m in messages if isinstance(m, Opened))


def test_recorded_speech_becomes_entries(first: tuple[Path, list[Message]]) -> None:
    """Each recording is taken, is in the log with its sound, and folds to what was shown."""
    _, messages = first
    took = [m for m in messages if isinstance(m, Took)]
    assert len(took) == len(TAKEN)
    assert len([entry for entry in entries_of(messages) if entry[2]]) >= 3
    report = verify(log_of(messages))
    assert report.ok
    assert report.clips == len(TAKEN)
    closed = messages[-1]
    assert isinstance(closed, Closed)
    assert open_log(log_of(messages)).inspection == closed.inspection


def test_every_part_of_the_wait_is_told(tmp_path: Path) -> None:
    """At the speed of life: what it was spent on, and that the ear was asked before the decision."""
    wishes = Wishes(rehearse=True, recordings=recordings("d05"))
    messages = run_to_the_end(launch(settings_for(tmp_path), wishes))
    (took,) = [m for m in messages if isinstance(m, Took)]
    assert set(took.parts) >= {"end-pointing", "ear", "reading", "disk", "tone"}
    assert min(took.parts.values()) > -0.01
    assert took.parts["ear, before the decision"] > 0.0
    assert any(isinstance(m, Partial) and m.text for m in messages)


def test_another_day_goes_on_with_the_same_log(first: tuple[Path, list[Message]]) -> None:
    """What was found is there, new entries get new ids, and the old rules hold."""
    folder, earlier = first
    later = rehearsed(folder, "d17", resume="last")
    opened = next(m for m in later if isinstance(m, Opened))
    assert opened.resumed
    assert opened.log == log_of(earlier)
    assert entries_of(later)[: len(entries_of(earlier))] == entries_of(earlier)
    assert len(entries_of(later)) > len(entries_of(earlier))
    types = [fact.type for fact in read_log(opened.log).facts]
    assert types.count("resumed") == 1
    assert types.count("stopped") == 2
    assert verify(opened.log).ok


def test_the_same_log_is_not_written_twice(tmp_path: Path) -> None:
    """A second inspection on it is refused in a sentence, with the code for it."""
    log = log_of(rehearsed(tmp_path, "d01"))
    messages: Queue[Message] = Queue()
    wishes = Wishes(rehearse=True, recordings=recordings("d01"), resume=str(log))
    holds = launch(settings_for(tmp_path), wishes)
    holds.start(messages.put)
    while not isinstance(messages.get(timeout=60), Opened):
        pass
    refused = rehearsed(tmp_path, "d01", resume=str(log))
    holds.stop()
    assert holds.join(10)
    assert isinstance(refused[-1], Closed)
    assert refused[-1].exit_code == LockedFault.exit_code
    assert refused[-1].fault
