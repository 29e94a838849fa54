"""Speech slower, or faster, at the same pitch, through the package ``python-stretch`` (MIT).

It wraps a stretcher written in C++ and is not there for every machine; without it sound keeps its
speed, and :func:`why_not` says so.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from voicelog.errors import VoiceFault
from voicelog.tongue import to_word, worded

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

SLOWEST, FASTEST = 0.5, 1.5
"""Beyond these, speech is no longer pleasant to listen to."""

INSTALL = to_word("pip install 'voicelog[voice]'")

_SEED = 1
"""The stretcher rolls dice for what has no pitch; with a seed the same sound comes out again."""


def slower(samples: Floats, rate_hz: int, speed: float) -> Floats:
    """The same words at the same pitch, in more or less time.

    Args:
        samples: mono, -1 to 1, shape (samples,).
        rate_hz: samples a second.
        speed: 0.5 takes twice as long; 1 gives back what was given.

    Returns:
        Shape (samples / speed,), rounded; what lay at second t lies at t / speed.

    Raises:
        ValueError: the speed lies outside :data:`SLOWEST` to :data:`FASTEST`.
        VoiceFault: the package is not there.
    """
    if not SLOWEST <= speed <= FASTEST:
        raise ValueError(f"a speed of {speed:g} lies outside {SLOWEST:g} to {FASTEST:g}")
    if speed == 1.0 or not len(samples):
        return samples
    import numpy as np

    stretch = library().Stretch(_SEED)
    stretch.preset(1, rate_hz)
    stretch.timeFactor = speed
    stretched: Floats = stretch.process(np.ascontiguousarray(samples[None], np.float32))[0]
    return stretched


def why_not() -> str:
    """Why sound can be played at full speed only, with the next step; empty where it can be slower."""
    try:
        library()
    except VoiceFault as fault:
        return str(fault)
    return ""


@cache
def library() -> Any:
    """The stretcher's module, loaded when it is needed for the first time.

    Raises:
        VoiceFault: it is not installed, or does not load.
    """
    try:
        from python_stretch import Signalsmith
    except ModuleNotFoundError as error:
        raise _full_speed(worded("the package python-stretch is not installed")) from error
    except (ImportError, OSError) as error:
        raise _full_speed(
            worded("the package python-stretch does not load ({error})", error=error)
        ) from error
    return Signalsmith


def _full_speed(why: str) -> VoiceFault:
    return VoiceFault(worded("Sound is played at full speed only: {why}", why=why), worded(INSTALL))
