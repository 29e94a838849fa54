"""Trying a microphone out: how loud it is, what stands out of the noise, and how it sounds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from voicelog.capture.incoming import Dropped, Ended, Gone, Sound, Source
from voicelog.capture.meter import Meter
from voicelog.capture.mute import WHY as MUTED
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE
from voicelog.errors import MicrophoneFault
from voicelog.runtime.listen_flaws import Flaw, flaws_of
from voicelog.runtime.listen_verdict import Levels
from voicelog.tongue import worded

METER_S, RECORD_S = 5.0, 3.0
"""Length of the two parts, in seconds of sound."""

WAITS_S = 3.0
"""Without any sound for so long, there is no microphone to try."""

_READ_S = 0.1


@dataclass(frozen=True, slots=True)
class Shown:
    """A moment of the check.

    Args:
        recording: the part that is played back has begun.
        level_dbfs: of the last tenth of a second.
        levels: as they look so far.
        left_s: seconds of this part to come.
    """

    recording: bool
    level_dbfs: float
    levels: Levels
    left_s: float


@dataclass(frozen=True, slots=True)
class Checked:
    """How it went.

    Args:
        device: what was listened to.
        levels: of the recording; the noise is that of the whole check.
        lost_s: sound that was lost meanwhile.
        pcm: the recording, as the ear hears it.
    """

    device: str
    levels: Levels
    lost_s: float
    pcm: bytes

    @property
    def flaws(self) -> tuple[Flaw, ...]:
        """What is wrong with the recording beside its levels."""
        return flaws_of(self.pcm)


def listen_check(
    source: Source,
    play: Callable[[bytes], None],
    *,
    meter_s: float = METER_S,
    record_s: float = RECORD_S,
) -> Iterator[Shown | Checked]:
    """Watch the level, record, and play the recording back.

    Args:
        source: the microphone.
        play: plays 16 kHz mono sound; called once, after the recording.
        meter_s: seconds in which only the level is looked at.
        record_s: seconds that are recorded.

    Yields:
        A :class:`Shown` ten times a second, and :class:`Checked` at the very end.

    Raises:
        MicrophoneFault: it gives no sound.
    """
    check = _Check(source)
    yield from check.listen(meter_s, recording=False)
    yield from check.listen(record_s, recording=True)
    play(bytes(check.pcm))
    yield check.outcome()


class _Check:
    """What came in so far."""

    def __init__(self, source: Source) -> None:
        self._source, self._meter = source, Meter()
        self._all: list[float] = []
        self._part: list[float] = []
        self._clipped, self._lost_s = False, 0.0
        self.pcm = bytearray()

    def listen(self, length_s: float, *, recording: bool) -> Iterator[Shown]:
        """So many seconds of sound, or until there is no more; forgets the part before."""
        self._part, self._clipped = [], False
        self.pcm.clear()
        whole = round(length_s * SAMPLE_RATE) * BYTES_PER_SAMPLE
        while len(self.pcm) < whole and (sound := self._next()) is not None:
            self.pcm += sound.pcm
            self._clipped |= sound.clipped
            left_s = max(0, whole - len(self.pcm)) / BYTES_PER_SAMPLE / SAMPLE_RATE
            for reading in self._meter.feed(sound.pcm):
                self._all.append(reading.level_dbfs)
                self._part.append(reading.level_dbfs)
                yield Shown(recording, reading.level_dbfs, self._levels(), left_s)

    def outcome(self) -> Checked:
        """How the part just listened to was."""
        return Checked(self._source.device, self._levels(), self._lost_s, bytes(self.pcm))

    def _levels(self) -> Levels:
        return Levels.of(self._part, self._all, clipped=self._clipped)

    def _next(self) -> Sound | None:
        """The next sound; None when there will be none."""
        waited_s = 0.0
        while waited_s < WAITS_S:
            match self._source.read(_READ_S):
                case Sound() as sound:
                    return sound
                case Dropped(lost_s, _):
                    self._lost_s += lost_s
                case Gone(_, why) if why != MUTED:
                    raise _no_sound(self._source, why)
                case Ended():
                    return None
                case None:
                    waited_s += _READ_S
        raise _no_sound(self._source)


def _no_sound(source: Source, why: str = "") -> MicrophoneFault:
    device = repr(source.device)
    return MicrophoneFault(
        worded("The microphone {device} gives no sound: {why}", device=device, why=why)
        if why
        else worded("The microphone {device} gives no sound", device=device),
        worded("Check its plug and its switch, or choose another: voicelog doctor lists them"),
    )
