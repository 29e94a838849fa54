"""``voicelog hear`` killed outright: every utterance shown on the screen is in the log."""

from __future__ import annotations

import os
import random
import re
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

import pytest

from voicelog.config.data import samples_dir
from voicelog.errors import InputFault, LogFault
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify

SEED = 20260314
KILLS_OPENING, KILLS_HEARING = 4, 16
CLIPS = ("d07", "d09", "d01")
SHOWN = re.compile(r"^ *(u\d+) “.*”\n", re.MULTILINE)


@dataclass(frozen=True)
class Killed:
    """What one killed process left: its folder, the utterances it showed, whether it had begun."""

    into: Path
    shown: tuple[str, ...]
    begun: bool


@pytest.fixture(scope="module")
def recording(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three of the bundled recordings, one after another in one file (16 kHz mono)."""
    import numpy as np
    import soundfile

    parts = [soundfile.read(samples_dir() / f"{clip}.flac", dtype="int16")[0] for clip in CLIPS]
    path = tmp_path_factory.mktemp("sound") / "walk.wav"
    soundfile.write(path, np.concatenate(parts), 16_000, subtype="PCM_16")
    return path


def _moments() -> list[tuple[int | None, float]]:
    """Twenty seeded kills: after how many shown utterances, and how many seconds later.

    None counts from the start of the process, 0 from its first line, so that a slow machine does
    not move every kill to before the first utterance.
    """
    chance = random.Random(SEED)
    opening = [(None, chance.uniform(0.2, 2.5)) for _ in range(KILLS_OPENING)]
    after = [number % 3 for number in range(KILLS_HEARING)]
    return [*opening, *((shown, chance.uniform(0.0, 1.5)) for shown in after)]


def _read_until(output: IO[str], shown: int | None) -> str:
    """The lines up to the one that shows so many utterances."""
    told = ""
    while shown is not None and (not told or len(SHOWN.findall(told)) < shown):
        line = output.readline()
        assert line, f"the program ended by itself after {told!r}"
        told += line
    return told


def _kill(recording: Path, into: Path, shown: int | None, moment_s: float) -> Killed:
    command = [sys.executable, "-m", "voicelog", "hear", str(recording), "--into", str(into)]
    environ = {**os.environ, "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=environ
    ) as child:
        assert child.stdout is not None
        told = _read_until(child.stdout, shown)
        time.sleep(moment_s)
        child.kill()
        told += child.stdout.read()
    return Killed(into, tuple(SHOWN.findall(told)), told.startswith("Ear: "))


def _check_opening(killed: Killed) -> None:
    """Killed before its first line: nothing was promised, and what lies there is whole or refused.

    A kill between the making of the folder and of its journal leaves a folder that is no log yet.
    """
    assert killed.shown == ()
    for folder in killed.into.glob("*"):
        with suppress(InputFault, LogFault):
            assert verify(folder).problems == ()


def _check_hearing(killed: Killed) -> None:
    """Everything shown is there with its sound, and the log can be gone on with."""
    (folder,) = killed.into.iterdir()
    report = verify(folder)
    assert report.ok, report.problems
    clips = {
        fact.body["utterance"]: folder / fact.body["clip"]["file"]
        for fact in read_log(folder).facts
        if fact.type == "utterance"
    }
    assert set(killed.shown) <= set(clips)
    assert all(clips[utterance].stat().st_size for utterance in killed.shown)
    with Journal.reopen(folder) as again:
        again.append("closed", {"reason": "test"})
    assert verify(folder).ok


def test_nothing_shown_is_lost(recording: Path, tmp_path: Path) -> None:
    """Twenty seeded kills, two processes at a time."""
    with ThreadPoolExecutor(2) as pool:
        runs = [
            pool.submit(_kill, recording, tmp_path / f"run{number}", *moment)
            for number, moment in enumerate(_moments())
        ]
        killed = [run.result() for run in runs]
    for one in killed:
        if one.begun:
            _check_hearing(one)
        else:
            _check_opening(one)
    assert sum(one.begun for one in killed) >= KILLS_HEARING
    assert sum(bool(one.shown) for one in killed) >= KILLS_HEARING // 2
