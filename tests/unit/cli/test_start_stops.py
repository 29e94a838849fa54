"""A live inspection whose terminal is gone ends, whatever its screen waits for."""

from __future__ import annotations

import signal
import subprocess
import sys
import time

import pytest

WAITS_FOR_EVER = """
import sys
from queue import Queue
from voicelog.cli import start

class Engine:
    def stop(self, unasked=False): print("stopped", flush=True)
    def join(self, timeout): print("joined", flush=True)

start.GRACE_S = 0.2
with start._stopping(Engine()):
    print("screen", flush=True)
    full = Queue(1)
    full.put("a line")
    full.put("one that nobody takes")
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no terminal hangs up there")
def test_a_screen_that_hangs_does_not_outlive_its_terminal() -> None:
    """The engine ends in order first; then the process does, with the status of a hang-up."""
    process = subprocess.Popen(
        [sys.executable, "-c", WAITS_FOR_EVER], stdout=subprocess.PIPE, text=True
    )
    try:
        assert process.stdout is not None
        assert process.stdout.readline() == "screen\n"
        time.sleep(0.2)
        process.send_signal(signal.SIGHUP)
        said, _ = process.communicate(timeout=20)
        assert said.split() == ["stopped", "joined"]
        assert process.returncode == 129
    finally:
        process.kill()
