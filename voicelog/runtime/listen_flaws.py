"""Faults of a microphone that its levels do not show, found in the recording of the check."""

from __future__ import annotations

from enum import StrEnum

from voicelog.capture.bands import Bands
from voicelog.runtime.listen_verdict import QUIET_DBFS
from voicelog.tongue import to_word

WIDE_DB = -43.0
"""Speech whose hissing sounds lie further below its other sounds went through a telephone's band: the
tuning voices reach -36 dB and more, quiet and in noise, the same ones at 8 kHz and 16 bits -51 dB at most."""

HUMS_DB = -25.0
"""A hum softer than this against the words is no matter: ours."""

OFFSET = 0.005
"""Share of full scale; as a level that is -46 dBFS, which passes for a loud room: ours."""


class Flaw(StrEnum):
    """What is wrong with the sound."""

    NARROW = to_word("telephone sound, nothing above 4 kHz")
    HUM = to_word("a hum below 130 Hz")
    OFFSET = to_word("a constant offset")


REMEDY = {
    Flaw.NARROW: to_word(
        "A wireless headset sounds like that in its telephone mode: choose its better mode "
        "in the system's settings, or plug in a cable"
    ),
    Flaw.HUM: to_word(
        "Try it with the charger unplugged and the cable away from mains leads; "
        "if a motor hums, turn away from it"
    ),
    Flaw.OFFSET: to_word(
        "The noise told above is too high by it; try another socket, or a microphone with a USB plug"
    ),
}
"""What to do about each, for :func:`~voicelog.tongue.worded`, as a flaw itself is."""


def flaws_of(pcm: bytes) -> tuple[Flaw, ...]:
    """The faults of a recording in which somebody speaks with pauses.

    Args:
        pcm: 16 kHz mono signed 16-bit little-endian samples.
    """
    bands = Bands.of(pcm)
    if bands is None:
        return ()
    above_db = bands.high_dbfs - bands.words_dbfs
    hum_db = bands.hum_dbfs - max(bands.words_dbfs, QUIET_DBFS)
    holds = {
        Flaw.NARROW: bands.words_dbfs >= QUIET_DBFS and above_db < WIDE_DB,
        Flaw.HUM: bands.hum_dbfs >= bands.rest_dbfs and hum_db >= HUMS_DB,
        Flaw.OFFSET: abs(bands.offset) >= OFFSET,
    }
    return tuple(flaw for flaw, there in holds.items() if there)
