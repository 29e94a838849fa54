"""The real PortAudio and the real sounddevice, on a sound device that ALSA makes of a named pipe.

Where the system can make such a device it is made for one process only, by a configuration file of
its own; no sound card is needed, and none is touched. ``VOICELOG_NEEDS_PORTAUDIO=1`` makes it a
failure where the system cannot: continuous integration sets it, with ``libportaudio2`` installed.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile

from voicelog.capture.source import read_audio
from voicelog.config.data import samples_dir

ALSA = Path("/usr/share/alsa/alsa.conf")
HERE = Path(__file__).parent
RECORDING = "d29.flac"
"""Left kick up, bit of surface rust on top."""

DEVICE = """\
<{alsa}>
pcm.voicelog_pipe {{
    type file
    slave.pcm "null"
    file "/dev/null"
    infile "{pipe}"
    format "raw"
}}
pcm.voicelog_microphone {{
    type plug
    slave {{ pcm "voicelog_pipe" format S16_LE rate 16000 channels 1 }}
}}
"""


def _missing() -> str:
    """Why this system cannot make the device; empty when it can."""
    if not sys.platform.startswith("linux") or not ALSA.exists():
        return "no ALSA"
    try:
        import sounddevice
    except (ImportError, OSError) as error:
        return f"no PortAudio ({error})"
    systems = [system["name"] for system in sounddevice.query_hostapis()]
    return "" if "ALSA" in systems else "PortAudio without ALSA"


MISSING = _missing()
NEEDED = os.environ.get("VOICELOG_NEEDS_PORTAUDIO") == "1"


@pytest.mark.skipif(bool(MISSING) and not NEEDED, reason=f"no virtual sound device here: {MISSING}")
def test_real_portaudio_gives_the_recording_and_its_entry(
    tmp_path: Path, run: Callable[..., subprocess.CompletedProcess[str]]
) -> None:
    """Every sample of a recording comes through PortAudio, the queue and the reader; its entry too.

    The device is the default neither of the system nor of PortAudio: it is found by its name.
    """
    pipe, conf, heard = tmp_path / "pipe", tmp_path / "asound.conf", tmp_path / "heard.raw"
    os.mkfifo(pipe)
    conf.write_text(DEVICE.format(alsa=ALSA, pipe=pipe), encoding="utf-8")
    recording = samples_dir() / RECORDING
    done = subprocess.run(
        [sys.executable, HERE / "hear_virtual.py", pipe, recording, heard],
        env={**os.environ, "ALSA_CONFIG_PATH": str(conf)},
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout == "device: voicelog_microphone\n"
    assert b"".join(read_audio(recording)) in heard.read_bytes()
    entries = json.loads(run("hear", _wav(heard), "--ear", "built-in", "--json").stdout)["entries"]
    assert [(one["zone"], one["condition"]) for one in entries] == [("kick-up", "surface-rust")]


def _wav(raw: Path) -> Path:
    """The samples as a file that says how they were recorded."""
    file = raw.with_suffix(".wav")
    soundfile.write(file, np.frombuffer(raw.read_bytes(), "<i2"), 16_000)
    return file
