"""Inspections killed outright: everything that was acknowledged is in the log, and it goes on."""

from __future__ import annotations

import random
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path

FAULTS = Path(__file__).parents[1]
sys.path.insert(0, str(FAULTS))

import crash_hear  # noqa: E402

from voicelog.config.data import samples_dir  # noqa: E402
from voicelog.errors import InputFault, LogFault  # noqa: E402
from voicelog.journal.journal import Journal  # noqa: E402
from voicelog.journal.reading import verify  # noqa: E402

SEED = 20260314
KILLS_OPENING, KILLS_HEARING = 2, 6
RECORDINGS = tuple(samples_dir() / f"{name}.flac" for name in ("d07", "d09", "d01"))


def _moments() -> list[tuple[int | None, float]]:
    """Seeded kills: after how many shown utterances, and how many seconds later."""
    chance = random.Random(SEED)
    opening = [(None, chance.uniform(0.2, 2.5)) for _ in range(KILLS_OPENING)]
    after = [number % 3 for number in range(KILLS_HEARING)]
    return [*opening, *((shown, chance.uniform(0.0, 1.5)) for shown in after)]


def _wrong(into: Path, shown: tuple[str, ...]) -> list[str]:
    """What is lost or damaged; then the log is gone on with, where there is one.

    A kill between the making of a folder and of its journal leaves a folder that is no log yet.
    """
    wrong = crash_hear.faults_of(into, shown)
    for folder in into.glob("*"):
        with suppress(InputFault, LogFault), Journal.reopen(folder) as again:
            again.append("closed", {"reason": "test"})
            wrong += verify(folder).problems
    return wrong


def test_nothing_that_hear_showed_is_lost(tmp_path: Path) -> None:
    """Eight kills of ``voicelog hear`` with the built-in ear, two processes at a time."""
    moments = _moments()
    folders = [tmp_path / f"run{number}" for number in range(len(moments))]
    with ThreadPoolExecutor(2) as pool:
        runs = [
            pool.submit(crash_hear.kill, RECORDINGS, into, *moment)
            for into, moment in zip(folders, moments, strict=True)
        ]
        shown = [run.result() for run in runs]
    assert [_wrong(*one) for one in zip(folders, shown, strict=True)] == [[] for _ in moments]
    assert sum(map(bool, shown)) >= KILLS_HEARING // 2


def test_nothing_that_a_live_inspection_acknowledged_is_lost() -> None:
    """The crash harness with a few kills: at a moment, inside calls to the disk, while a log opens."""
    command = [sys.executable, str(FAULTS / "crash.py"), "--as-written", "--only", "texts"]
    ran = subprocess.run(
        [*command, "--kills", "5", "--seed", str(SEED)],
        capture_output=True, text=True, timeout=900, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stdout + ran.stderr
