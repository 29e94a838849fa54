"""How soon the review screen opens and answers; run ``python tests/bench/review.py``.

A log of 2,000 entries is written once, as ``voicelog read --into`` would. Measured are the time from
the start of ``voicelog review`` in a terminal to its first screen, and from a key to the end of the
repaint that it causes, what is sent to the terminal included. ``--write`` puts the table between
the markers of the README, ``--entries`` makes another log.
"""

from __future__ import annotations

import argparse
import asyncio
import fcntl
import json
import os
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
from collections.abc import Iterator, Sequence
from pathlib import Path
from time import perf_counter
from typing import Any

import page
from measure import machine
from shares import markdown
from textual import events

from voicelog.announce.clip_player import ClipPlayer
from voicelog.announce.player import Player
from voicelog.config.data import samples_dir
from voicelog.config.settings import Settings
from voicelog.runtime.opening import open_reading
from voicelog.runtime.review import Review
from voicelog.tui.review.app import ReviewApp
from voicelog.tui.review.entry_table import EntryTable

SIZES = ((80, 24), (160, 50))
OPENS_S, REPAINTS_S = 1.0, 0.05
"""Wanted, in seconds: the first screen, and the median from key to repaint."""

QUIET_S = 0.05
"""Nothing was drawn for so long: the answer is complete."""

LAST_DRAWN = b"Runner-up"
"""At the foot of the screen: once it is there, all is."""

OPENED = 5
"""Processes started for each size; the first one is not counted, for it fills caches."""

KEYS = {
    "next entry (↓)": ("down", 40),
    "page down": ("pagedown", 40),
    "next word (→)": ("right", 40),
    "next doubtful (n)": ("n", 40),
    "sort (z)": ("z", 30),
    "only doubtful, and back (d)": ("d", 30),
    "withdraw, and take it back (w, u)": ("w u", 15),
}
"""What is measured: the keys, and how often."""

SAID = (
    "left front rail, surface rust, metal is firm", "right front rail, scale, a foot from the cab mount",
    "left sill, hole, {} millimetres", "steering box mount, crack, {} mil", "right cab mount clean",
    "both rails scale", "photo of the right sill", "right rear spring hanger, pack rust",
)  # fmt: skip


def write_log(parent: Path, entries: int) -> Path:
    """A log of about so many entries."""
    settings = Settings(into=parent)
    with open_reading(settings, keep=True, subject="bench") as session:
        for number in range(entries):
            said = SAID[number % len(SAID)].format(5 + number % 60)
            session.read(said, at_s=5.0 * number)
        assert session.folder is not None
        return session.folder


def opening_s(log: Path, size: tuple[int, int]) -> list[float]:
    """From the start of ``voicelog review`` in a terminal to its first screen, several times."""
    return [_opened_s(log, size) for _ in range(OPENED + 1)][1:]


def _opened_s(log: Path, size: tuple[int, int]) -> float:
    ours, theirs = os.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
    command = [sys.executable, "-m", "voicelog", "review", str(log)]
    begun, drawn = perf_counter(), b""
    child = subprocess.Popen(
        command, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True,
        env={**os.environ, "TERM": "xterm-256color"},
    )  # fmt: skip
    os.close(theirs)
    while LAST_DRAWN not in drawn:
        drawn += os.read(ours, 65536)
    taken = perf_counter() - begun
    os.write(ours, b"q")
    while _read(ours):
        pass
    child.wait(10)
    os.close(ours)
    return taken


def _read(terminal: int) -> bytes:
    """What is drawn next; nothing once the other side has gone."""
    try:
        return os.read(terminal, 65536)
    except OSError:
        return b""


class Watched(ReviewApp):
    """Notes when it has drawn, what a terminal would be sent included."""

    drawn_s = 0.0

    def rest(self) -> None:
        """What is looked up once the cursor rests comes later, and is no answer to the key."""

    def _display(self, screen: Any, renderable: Any) -> None:
        if renderable is not None and hasattr(renderable, "render_segments"):
            renderable.render_segments(self.console)
        super()._display(screen, renderable)
        self.drawn_s = perf_counter()


async def answers_s(log: Path, size: tuple[int, int]) -> dict[str, list[float]]:
    """From each key to the end of its repaint."""
    taken: dict[str, list[float]] = {name: [] for name in KEYS}
    with Review.open(log, Settings(), by="bench") as review:
        deck = ClipPlayer(Player(silent="the bench has no speaker"))
        app = Watched(review, Settings(), deck)
        async with app.run_test(size=size):
            await asyncio.sleep(0.5)
            for name, (keys, times) in KEYS.items():
                app.query_one(EntryTable).go_to(0)
                for _ in range(times):
                    taken[name] += [await _answer_s(app, key) for key in keys.split()]
    return taken


async def _answer_s(app: Watched, key: str) -> float:
    """Until the last of the repaints that follow each other; what a cursor at rest looks up comes
    a tenth of a second later, and is no answer to the key.
    """
    await asyncio.sleep(0.1)
    begun = perf_counter()
    app.post_message(events.Key(key, key if len(key) == 1 else None))
    while app.drawn_s < begun or perf_counter() - app.drawn_s < QUIET_S:
        await asyncio.sleep(0.002)
        if perf_counter() - begun > 5.0:
            raise SystemExit(f"{key} was never answered")
    return app.drawn_s - begun


def rows(
    opened: Sequence[list[float]], answered: Sequence[dict[str, list[float]]]
) -> Iterator[list[str]]:
    """What is measured, a column for each size."""
    told = [f"{statistics.median(taken):.2f} s (longest {max(taken):.2f} s)" for taken in opened]
    yield ["opens: from the start of the process to the first screen", *told, f"< {OPENS_S:g} s"]
    for name in KEYS:
        told = [_median_p95(taken[name]) for taken in answered]
        yield [name, *told, f"median < {REPAINTS_S * 1000:.0f} ms"]
    told = [_median_p95([t for one in taken.values() for t in one]) for taken in answered]
    yield ["**all keys**", *told, f"median < {REPAINTS_S * 1000:.0f} ms"]


def _median_p95(taken: Sequence[float]) -> str:
    p95 = statistics.quantiles(taken, n=20, method="inclusive")[-1]
    return f"{1000 * statistics.median(taken):.0f} / {1000 * p95:.0f} ms"


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--write", action="store_true", help="put the table into the README")
    parser.add_argument("--entries", type=int, default=2000, help="of the log")
    asked = parser.parse_args()
    manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
    with tempfile.TemporaryDirectory() as folder:
        log = write_log(Path(folder), asked.entries)
        opened = [opening_s(log, size) for size in SIZES]
        answered = [asyncio.run(answers_s(log, size)) for size in SIZES]
    head = ["median / 95 of 100", *(f"{width}×{height}" for width, height in SIZES), "target"]
    text = f"{machine(manifest)} A log of {asked.entries} entries.\n\n{markdown(head, list(rows(opened, answered)))}"
    print(text)
    if asked.write:
        page.write("review", text)


if __name__ == "__main__":
    main()
