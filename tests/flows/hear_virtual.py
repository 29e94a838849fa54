"""Run by ``test_virtual_microphone.py`` in a process of its own: hear a device of ALSA's.

Arguments: the named pipe that the device reads, a recording, where to write what was heard. Prints
the device, and what came besides sound.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from threading import Event, Thread

import numpy as np

from voicelog.capture.incoming import Sound
from voicelog.capture.microphone import Microphone
from voicelog.capture.source import read_audio

NAME = "voicelog_microphone"
AT_ONCE = 2048
"""Bytes (64 ms): what ALSA asks for at once; with fewer it would fill up with what lay there."""


def feed(pipe: int, sound: bytes, over: Event) -> None:
    """The sound at the pace of real time, then a quiet room: an empty pipe holds the device up."""
    room = (np.random.default_rng(1).standard_normal(AT_ONCE // 2) * 8).astype("<i2").tobytes()
    begun, at = time.monotonic(), 0
    while not over.is_set():
        os.write(pipe, sound[at : at + AT_ONCE].ljust(AT_ONCE, b"\0") if at < len(sound) else room)
        at += AT_ONCE
        time.sleep(max(0.0, begun + at / 32_000 - time.monotonic()))


def main(pipe: str, recording: str, into: str) -> None:
    """Hear all of it, and a second more."""
    opened = os.open(pipe, os.O_RDWR)  # for writing alone it would wait for a reader
    sound, over = bytes(AT_ONCE * 16) + b"".join(read_audio(Path(recording))), Event()
    microphone = Microphone(NAME)
    print(f"device: {microphone.device}")
    Thread(target=feed, args=(opened, sound, over), daemon=True).start()
    heard, until_s = bytearray(), time.monotonic() + len(sound) / 32_000 + 2.0
    while time.monotonic() < until_s:
        came = microphone.read(0.1)
        if isinstance(came, Sound):
            heard += came.pcm
        elif came is not None:
            print(f"came: {came}")
    microphone.close()
    over.set()
    Path(into).write_bytes(heard)


if __name__ == "__main__":
    main(*sys.argv[1:])
