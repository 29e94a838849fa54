"""Time and memory of one ear, measured in a process of its own that does nothing else.

``python tests/bench/yardstick/timing.py`` gets the ear's name, the folder of a Vosk model or ``-``,
and the clips; it prints one JSON object. The sound is fed in pieces as it would come, so that an ear
that decodes while somebody speaks has done most of its work when the speech ends.
"""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

PIECE_BYTES = 3200
"""0.1 s."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What an ear costs.

    Args:
        after_s: from the end of speech to the text, for each clip.
        work_s: processor time for the clips, which other work on the machine hardly changes.
        wall_s: real time for them.
        sound_s: how long they are together.
        peak_mb: most memory the process ever held, in MB.
        open_s: until the ear could listen.
    """

    after_s: tuple[float, ...]
    work_s: float
    wall_s: float
    sound_s: float
    peak_mb: float
    open_s: float

    @property
    def median_s(self) -> float:
        """Half of the clips took no longer."""
        return statistics.median(self.after_s)

    @property
    def p95_s(self) -> float:
        """19 of 20 clips took no longer."""
        if len(self.after_s) < 2:
            return self.after_s[0]
        return statistics.quantiles(self.after_s, n=20, method="inclusive")[-1]


def cost(name: str, model: Path | None, clips: Sequence[Path]) -> Cost:
    """Have a fresh process hear the first clip to warm up, then all of them for the record."""
    command = [sys.executable, __file__, name, str(model or "-"), *map(str, clips)]
    told = json.loads(subprocess.check_output(command, text=True))
    return Cost(**{**told, "after_s": tuple(told["after_s"])})


def _measure(name: str, model: Path | None, files: Sequence[Path]) -> Cost:
    from yardstick.ears import EARS
    from yardstick.speech_set import read_clip

    begun = time.perf_counter()
    ear = EARS[name].open(model)
    opened_s = time.perf_counter() - begun
    clips = [read_clip(file) for file in files]
    ear.feed(clips[0].pcm)
    ear.finish()
    after, begun, begun_cpu = [], time.perf_counter(), time.process_time()
    for clip in clips:
        for at in range(0, len(clip.pcm), PIECE_BYTES):
            ear.feed(clip.pcm[at : at + PIECE_BYTES])
        spoken = time.perf_counter()
        ear.finish()
        after.append(time.perf_counter() - spoken)
    wall_s, work_s = time.perf_counter() - begun, time.process_time() - begun_cpu
    sound_s = sum(clip.duration_s for clip in clips)
    return Cost(tuple(after), work_s, wall_s, sound_s, _peak_mb(), opened_s)


def _peak_mb() -> float:
    """Most memory of this process; Linux counts into ``ru_maxrss`` what the process that began it held."""
    status = Path("/proc/self/status")
    if status.exists():
        told = dict(line.split(":", 1) for line in status.read_text("ascii").splitlines())
        return int(told["VmHWM"].split()[0]) * 1024 / 1e6
    import resource

    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6  # bytes on macOS


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))
    name, folder, *files = sys.argv[1:]
    found = _measure(name, None if folder == "-" else Path(folder), [Path(file) for file in files])
    print(json.dumps(asdict(found)))
