"""The real ``voicelog`` in a process of its own, on a sound card that is worked from outside.

Run by ``machine_run.py``. Everything is the program's own but four things that a test machine does
not have or that must not be touched: the sound card (:mod:`machine_board`), the voice (a hum, and
its words noted down), a second ear, and the files of the first one's model. Commands come in through
a named pipe, one a line; what a person would hear is written to a file, one a line.
"""

from __future__ import annotations

import argparse
import os
import sys
import threading
import time
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))

SECOND = """
import json, os, sys
sys.stdin.buffer.readline()
print(json.dumps({"engine": "second", "model": "m"}), flush=True)
sys.stdin.buffer.read(8)
while %s: sys.stdin.buffer.read(1) or os._exit(0)
os._exit(1)
"""
"""A second ear that is ready, and then crashes, or hangs, with the first utterance."""


def main() -> None:
    """Set the scene, and hand over to the command line."""
    asked, arguments = _arguments()
    if asked.terminal:
        _take_the_terminal()
    note = _Notes(asked.folder / "ears").put
    from machine_board import Board

    board = Board(asked, note)
    sys.modules["sounddevice"] = board  # type: ignore[assignment]
    if asked.without_portaudio:
        sys.modules["sounddevice"] = None  # type: ignore[assignment]
    _voice(note)
    _ears(asked)
    threading.Thread(
        target=_obey, args=(asked.folder / "commands", board, asked), daemon=True
    ).start()
    from voicelog.cli.main import run

    try:
        run(arguments)
    except Exception:  # the terminal that would show it may be gone
        (asked.folder / "defect").write_text(traceback.format_exc(), encoding="utf-8")
        raise


def _arguments() -> tuple[argparse.Namespace, Sequence[str]]:
    split = sys.argv.index("--")
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    for flag in ("terminal", "without-portaudio", "without-ear", "altered-ear", "mute-house"):
        parser.add_argument(f"--{flag}", action="store_true")
    parser.add_argument("--says-hz", type=int, default=0, help="what the card calls its rate")
    parser.add_argument("--rate-hz", type=int, default=16_000, help="the only one it takes")
    parser.add_argument("--gives-hz", type=int, default=0, help="what it really gives")
    parser.add_argument("--second", choices=("none", "crash", "hang"), default="none")
    parser.add_argument("--ear-breaks", type=int, default=0, help="at which utterance")
    return parser.parse_args(sys.argv[1:split]), sys.argv[split + 1 :]


def _take_the_terminal() -> None:
    """Make what stands at the standard input the controlling terminal, as a login does."""
    import fcntl
    import termios

    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


class _Notes:
    """What a person would hear, a line each."""

    def __init__(self, path: Path) -> None:
        self._file = path.open("a", encoding="utf-8")
        self._guard = threading.Lock()

    def put(self, kind: str, text: str) -> None:
        """Written at once: the process may end at any moment."""
        with self._guard:
            self._file.write(f"{kind} {' '.join(text.split())}\n")
            self._file.flush()


def _voice(note: Callable[[str, str], None]) -> None:
    """A voice that hums for a moment; tones are noted where they are played."""
    import numpy as np

    import voicelog.announce.announcer as announcer
    from voicelog.announce.voice import Spoken

    class Hum:
        """Says everything in a third of a second."""

        name = "hum"

        def speak(self, text: str) -> Any:
            """A tone of 200 Hz."""
            if text != announcer.FIRST_WORDS:
                note("said", text)
            return Spoken(np.sin(np.arange(5_300) / 12.7).astype(np.float32) * 0.3, 16_000)

    played = announcer.Announcer.signal

    def signal(self: Any, which: Any) -> float:
        note("tone" if self.audible else "unheard", str(which))
        return played(self, which)

    announcer.open_voice = lambda _name: Hum()  # type: ignore[assignment]
    announcer.Announcer.signal = signal  # type: ignore[method-assign]


def _ears(asked: argparse.Namespace) -> None:
    """What befalls the ears."""
    import voicelog.recognise.ear_process as ear_process
    import voicelog.recognise.lookup as lookup
    import voicelog.recognise.moonshine_model as model

    lookup.has_second_ear = lambda: asked.second != "none"
    script = SECOND % (asked.second == "hang")
    ear_process.EarProcess.__init__.__kwdefaults__.update(
        command=(sys.executable, "-c", script), hangs_s=1.5
    )
    folder = asked.folder / "model"
    if asked.without_ear:
        model.FILES = lookup.model_folder = None  # type: ignore[assignment]
        _without(model, lookup)
    elif asked.altered_ear:
        _altered(model.model_folder(), folder, model.DECODER)
        model.model_folder = lookup.model_folder = lambda: folder
    if asked.ear_breaks:
        _breaking(asked.ear_breaks)


def _without(model: Any, lookup: Any) -> None:
    """As where the package that carries the model was never installed."""
    from voicelog.recognise.model_files import ModelFiles

    model.FILES = ModelFiles(
        "The built-in ear", "no_such_package", "", model.SHA256, model.INSTALL, model.INSTALL_ANEW
    )
    lookup.model_folder = model.model_folder


def _altered(real: Path, folder: Path, name: str) -> None:
    """The model with one bit of one file turned over; the rest are links."""
    folder.mkdir(exist_ok=True)
    for file in real.iterdir():
        if file.name != name and not (folder / file.name).exists():
            (folder / file.name).symlink_to(file)
    turned = bytearray((real / name).read_bytes())
    turned[len(turned) // 2] ^= 1
    (folder / name).write_bytes(turned)


def _breaking(at: int) -> None:
    """The native library behind the ear fails for good, as one does that has run out of memory."""
    from voicelog.recognise.moonshine_engine import MoonshineEar

    heard, count = MoonshineEar.finish, 0

    def finish(self: Any) -> Any:
        nonlocal count
        count += 1
        if count >= at:
            raise RuntimeError("bad allocation")
        return heard(self)

    MoonshineEar.finish = finish  # type: ignore[method-assign]


def _obey(pipe: Path, board: Any, asked: argparse.Namespace) -> None:
    """Do what is written to the pipe."""
    with os.fdopen(os.open(pipe, os.O_RDWR), encoding="utf-8") as commands:
        for line in commands:
            name, _, rest = line.strip().partition(" ")
            if name == "sleep":
                _sleep(float(rest))
            else:
                board.obey(name, rest)


def _sleep(seconds: float) -> None:
    """A lid that was closed: the clock that stands still in a sleep is behind by so much."""
    import voicelog.capture.asleep as asleep

    read, goes_on = asleep._read, {pair[0] for pair in asleep._PAIRS if hasattr(time, pair[1])}
    asleep._read = lambda clock: read(clock) + seconds * (clock in goes_on)


if __name__ == "__main__":
    main()
