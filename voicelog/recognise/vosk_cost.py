"""What loading a Vosk model takes, measured in a process of its own.

The library can end the process that loads a damaged model, and gives back what it took only then.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from voicelog.errors import EarFault
from voicelog.recognise.vosk_engine import checked_library, load
from voicelog.recognise.vosk_models import size_mb
from voicelog.tongue import handed_over, worded

LONGEST_S = 60.0
"""A model that is not loaded by then is one for another machine."""


@dataclass(frozen=True, slots=True)
class LoadCost:
    """What a model takes.

    Args:
        disk_mb: megabytes on the disk.
        load_s: seconds until it can hear.
        memory_mb: megabytes of memory when it can, voicelog's own few included; None where the
            system does not tell.
    """

    disk_mb: int
    load_s: float
    memory_mb: int | None


def load_cost(folder: Path, *, longest_s: float = LONGEST_S) -> LoadCost:
    """Load the model once and say what that took.

    Raises:
        EarFault: it cannot be loaded, or not in a reasonable time.
    """
    command = [sys.executable, "-m", "voicelog.recognise.vosk_cost", str(folder)]
    try:
        told = subprocess.run(command, capture_output=True, text=True, timeout=longest_s)  # noqa: S603
        cost = json.loads(told.stdout)
    except (subprocess.TimeoutExpired, ValueError) as error:
        raise EarFault(
            worded(
                "The Vosk model in {folder} does not load: its process came to no good end",
                folder=folder,
            ),
            worded(
                "Unpack it again, fetch it again (voicelog model get), or name another with --model"
            ),
        ) from error
    if "fault" in cost:
        raise EarFault(*map(handed_over, cost["fault"]))
    return LoadCost(size_mb(folder), cost["load_s"], cost["memory_mb"])


def _measured(folder: Path) -> dict[str, object]:
    """What the process of its own prints."""
    began = time.monotonic()
    try:
        kept = load(folder, checked_library(folder))
    except EarFault as fault:
        return {"fault": (fault.message.parts, fault.hint.parts)}
    took = time.monotonic() - began
    del kept
    return {"load_s": round(took, 1), "memory_mb": _most_memory_mb()}


def _most_memory_mb() -> int | None:
    """The most memory that this process has held.

    Linux counts what a parent held at the fork into ``ru_maxrss``, so there it is read elsewhere.
    """
    status = Path("/proc/self/status")
    if status.exists():
        told = dict(line.split(":", 1) for line in status.read_text("ascii").splitlines())
        return round(int(told["VmHWM"].split()[0]) * 1024 / 1e6)
    try:
        import resource
    except ImportError:  # Windows has no such module
        return None
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return round(most / 1e6)  # bytes on macOS


if __name__ == "__main__":
    print(json.dumps(_measured(Path(sys.argv[1]))))
