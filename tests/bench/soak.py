"""Long inspections; run ``python tests/bench/soak.py`` (``--hours 8 --pause 30`` for a whole day).

The bundled recordings are played over and over, without the pace of real time, through a pretended
device into the engine of ``voicelog start``. Counted is whether every recording of every round is
taken, and how much memory the process has grown by since the first round was over.
"""

from __future__ import annotations

import argparse
import gc
import math
import tempfile
from dataclasses import dataclass
from pathlib import Path
from queue import Queue
from time import monotonic

import page
import psutil
import soundfile
from shares import markdown

from voicelog.config.settings import Settings
from voicelog.domain.signal import Talk
from voicelog.journal.reading import verify
from voicelog.runtime import launching
from voicelog.runtime.launching import Wishes, bundled, launch
from voicelog.runtime.messages import Closed, Message, SoundEnded, Took

MOST_GROWTH_MB = 20


@dataclass(frozen=True)
class Soaked:
    """What a long inspection came to.

    Args:
        hours: of sound.
        wall_s: it took.
        expected: utterances, by the first round.
        taken: utterances.
        after_first_mb: resident memory when the first round was over.
        growth_mb: since then, at its highest.
        later_mb: since the second round, in which the last of the ear's arrays are made.
        lines: of the journal, whole and checked.
    """

    hours: float
    wall_s: float
    expected: int
    taken: int
    after_first_mb: float
    growth_mb: float
    later_mb: float
    lines: int


def soak(hours: float, pause_s: float) -> Soaked:
    """So many hours of sound, with so much quiet between two recordings."""
    recordings = bundled()
    round_s = sum(soundfile.info(path).duration + pause_s for path in recordings)
    rounds = max(2, math.ceil(hours * 3600 / round_s))
    launching.PAUSE_S = pause_s
    begun = monotonic()
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(into=Path(folder), ear="built-in", voice="none", talk=Talk.TONES)
        wishes = Wishes(rehearse=True, recordings=recordings * rounds, speed=math.inf)
        sizes, log = _run(settings, wishes, len(recordings))
        report = verify(log)
    if not report.ok:
        raise SystemExit("\n".join(report.problems))
    first = sizes[0]
    return Soaked(
        rounds * round_s / 3600, monotonic() - begun, rounds * len(recordings), sizes.pop(),
        first, max(sizes) - first, max(sizes[1:]) - sizes[1], report.lines,
    )  # fmt: skip


def _run(settings: Settings, wishes: Wishes, a_round: int) -> tuple[list[float], Path]:
    """Memory after every round in MB, then how many utterances were taken; and the log."""
    messages: Queue[Message] = Queue()
    engine = launch(settings, wishes)
    engine.start(messages.put)
    taken, sizes = 0, []
    while True:
        message = messages.get()
        if isinstance(message, Took):
            taken += 1
            if taken % a_round == 0:
                gc.collect()
                sizes.append(psutil.Process().memory_info().rss / 1e6)
                print(f"{taken} utterances, {sizes[-1]:.0f} MB", flush=True)
        if isinstance(message, SoundEnded):
            engine.stop()
        if isinstance(message, Closed):
            engine.join()
            if message.log is None:
                raise SystemExit(message.fault)
            return [*sizes, taken], message.log


def main() -> None:
    """Run it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--hours", type=float, default=1.0, help="of sound")
    parser.add_argument("--pause", type=float, default=1.0, help="seconds between recordings")
    parser.add_argument("--write", action="store_true", help="put the table into the README")
    asked = parser.parse_args()
    found = soak(asked.hours, asked.pause)
    rows = [
        ["utterances taken", f"{found.taken} of {found.expected}", "all"],
        ["memory after the first round", f"{found.after_first_mb:.0f} MB", ""],
        ["growth since then", f"{found.growth_mb:.1f} MB", f"≤ {MOST_GROWTH_MB} MB"],
        ["… since the second round", f"{found.later_mb:.1f} MB", ""],
        ["lines of the journal, checked", str(found.lines), ""],
        ["it took", f"{found.wall_s:.0f} s", ""],
    ]
    text = markdown([f"{found.hours:.1f} hours of sound", "", "target"], rows)
    print(text)
    if asked.write:
        page.write(f"soak-{asked.hours:g}", text)


if __name__ == "__main__":
    main()
