"""``voicelog hear`` in a process of its own, killed; what it showed is what it acknowledged."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import IO

from crash_check import faults_of as faults_of_log
from crash_check import log_in

from voicelog.journal.reading import read_log

SHOWN = re.compile(r"^ *(u\d+) “.*”\n", re.MULTILINE)


def kill(
    recordings: Sequence[Path], into: Path, shown: int | None, moment_s: float
) -> tuple[str, ...]:
    """Lets it hear, kills it, and gives the ids of the utterances that it showed.

    Args:
        recordings: heard one after another.
        into: where its log goes.
        shown: kill after so many shown utterances; None counts from the start of the process, 0 from
            its first line, so that a slow machine does not move every kill to before the first.
        moment_s: so many seconds later.
    """
    command = [sys.executable, "-m", "voicelog", "hear", *map(str, recordings), "--into", str(into)]
    environ = {**os.environ, "PYTHONUNBUFFERED": "1", "VOICELOG_SECOND_EAR": "off"}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=environ
    ) as child:
        assert child.stdout is not None
        told = _read_until(child.stdout, shown)
        time.sleep(moment_s)
        child.kill()
        told += child.stdout.read()
    return tuple(SHOWN.findall(told))


def _read_until(output: IO[str], shown: int | None) -> str:
    """The lines up to the one that shows so many utterances."""
    told = ""
    while shown is not None and (not told or len(SHOWN.findall(told)) < shown):
        line = output.readline()
        if not line:
            raise AssertionError(f"the program ended by itself after {told!r}")
        told += line
    return told


def faults_of(into: Path, shown: Sequence[str]) -> list[str]:
    """What is wrong with what is left: every utterance shown has to be there with its sound."""
    faults, folder = faults_of_log(into, []), log_in(into)
    if folder is None:
        return [*faults, *(["shown, and no log"] if shown else [])]
    if faults:
        return faults
    kept = {f.body["utterance"]: f.body for f in read_log(folder).facts if f.type == "utterance"}
    lost = [one for one in shown if "clip" not in kept.get(one, {})]  # verify compared their hashes
    return [f"{one} was shown and is not there with its sound" for one in lost]
