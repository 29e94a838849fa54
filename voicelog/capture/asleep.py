"""How long the machine has slept: a laptop whose lid was closed heard nothing meanwhile, and its
monotonic clock may know nothing of it.
"""

from __future__ import annotations

import time

LEAST_S = 1.0
"""Shorter sleeps are none: clocks are read one after the other."""


def asleep_s() -> float:
    """Seconds since it was started that the machine has spent asleep; always 0 where the system
    cannot tell, or where its monotonic clock goes on in a sleep (Windows): there the microphone is
    missed by its silence.
    """
    for goes_on, stands_still in _PAIRS:
        if hasattr(time, goes_on) and hasattr(time, stands_still):
            return _read(goes_on) - _read(stands_still)
    return 0.0


_PAIRS = (
    ("CLOCK_BOOTTIME", "CLOCK_MONOTONIC"),  # Linux
    ("CLOCK_MONOTONIC", "CLOCK_UPTIME_RAW"),  # macOS
)


def _read(clock: str) -> float:
    return time.clock_gettime(getattr(time, clock))
