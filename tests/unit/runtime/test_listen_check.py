"""Trying a microphone out: what is shown, what is played back, what is said about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
import pytest

from voicelog.capture.incoming import Dropped, Ended, Gone, Incoming, Sound
from voicelog.errors import MicrophoneFault
from voicelog.runtime.listen_check import Checked, Shown, listen_check
from voicelog.runtime.listen_verdict import ADVICE, Levels, Verdict


class Given:
    """A source made of a list; nothing comes after it."""

    device = "lapel"

    def __init__(self, incoming: Iterable[Incoming | None]) -> None:
        self._left = iter(incoming)

    def read(self, timeout_s: float) -> Incoming | None:
        """The next one."""
        return next(self._left, None)

    def close(self) -> None:
        """Nothing to let go."""


def _room(level_dbfs: float, tenths: int, *, clipped: bool = False) -> Iterator[Incoming]:
    for n in range(tenths):
        noise = np.random.default_rng(n).standard_normal(1600) * 10 ** (level_dbfs / 20)
        pcm = (noise * 32768).clip(-32768, 32767).astype("<i2").tobytes()
        yield Sound(pcm, 0.1 * n, clipped)


def _speech(level_dbfs: float, noise_dbfs: float, tenths: int) -> Iterator[Incoming]:
    """Words and pauses: three loud tenths, one soft."""
    for _ in range(tenths // 4):
        yield from _room(level_dbfs, 3)
        yield from _room(noise_dbfs, 1)


def _outcome(incoming: Iterable[Incoming | None]) -> tuple[Checked, list[Shown], list[bytes]]:
    played: list[bytes] = []
    *shown, checked = listen_check(Given(incoming), played.append)
    assert isinstance(checked, Checked)
    assert all(isinstance(one, Shown) for one in shown)
    return checked, shown, played  # type: ignore[return-value]


def test_good_speech_in_a_quiet_room() -> None:
    """Five seconds of room, three of speech: ten readings a second, the three played back."""
    speech = list(_speech(-25.0, -65.0, 32))
    checked, shown, played = _outcome([*_room(-65.0, 50), *speech])
    assert checked.levels.verdict is Verdict.GOOD
    assert checked.levels.speech_dbfs == pytest.approx(-25.0, abs=1)
    assert checked.levels.noise_dbfs == pytest.approx(-65.0, abs=1)
    assert [one.recording for one in shown] == [False] * 50 + [True] * 30
    assert shown[49].left_s == pytest.approx(0.0, abs=1e-6)
    assert played == [checked.pcm]
    assert len(checked.pcm) == 3 * 32_000
    assert checked.pcm == b"".join(one.pcm for one in speech[:30] if isinstance(one, Sound))


@pytest.mark.parametrize(
    ("speech_dbfs", "noise_dbfs", "clipped", "verdict"),
    [
        (-25, -65, False, Verdict.GOOD),
        (-50, -80, False, Verdict.QUIET),
        (-25, -33, False, Verdict.NOISY),
        (-25, -27, False, Verdict.NO_SPEECH),
        (-60, -62, False, Verdict.NO_SPEECH),
        (-5, -60, False, Verdict.LOUD),
        (-25, -60, True, Verdict.CLIPPING),
        (-96, -96, False, Verdict.NOTHING),
        (-96, -96, True, Verdict.NOTHING),
    ],
)
def test_what_the_levels_mean(
    speech_dbfs: float, noise_dbfs: float, clipped: bool, verdict: Verdict
) -> None:
    """One verdict each, and advice for every one."""
    assert Levels(speech_dbfs, noise_dbfs, clipped).verdict is verdict
    assert ADVICE[verdict]
    assert set(ADVICE) == set(Verdict)


def test_clipping_before_the_recording_does_not_count() -> None:
    """A knock while the microphone is put on is no fault of its level."""
    checked, *_ = _outcome([*_room(-10.0, 50, clipped=True), *_speech(-25.0, -65.0, 32)])
    assert not checked.levels.clipped


def test_lost_sound_is_told() -> None:
    """A busy machine shows here first."""
    checked, *_ = _outcome([*_room(-60.0, 50), Dropped(0.4, "busy"), *_speech(-25, -60, 32)])
    assert checked.lost_s == pytest.approx(0.4)


def test_no_sound_at_all_is_a_clear_error() -> None:
    """Neither a word nor an error from the device: told after three seconds of waiting."""
    with pytest.raises(MicrophoneFault, match="'lapel' gives no sound. Check its plug"):
        _outcome([])


def test_pulled_plug_is_a_clear_error() -> None:
    """With the reason."""
    with pytest.raises(MicrophoneFault, match="no sound: its stream has stopped"):
        _outcome([*_room(-60.0, 5), Gone("lapel", "its stream has stopped")])


def test_muted_microphone_gets_its_advice() -> None:
    """Zeros for eight seconds: no error, the verdict says it."""
    zeros = [Sound(bytes(3200), 0.1 * n) for n in range(80)]
    muted = Gone("lapel", "it gives nothing but digital silence: is it switched off, or muted?")
    checked, *_ = _outcome([*zeros[:50], muted, *zeros[50:]])
    assert checked.levels.verdict is Verdict.NOTHING
    assert "muted" in ADVICE[Verdict.NOTHING]


def test_rehearsal_that_ends_early_still_gives_an_outcome() -> None:
    """Recordings may be shorter than the check."""
    checked, *_ = _outcome([*_room(-60.0, 50), *_speech(-25, -60, 8), Ended(), Ended()])
    assert checked.levels.verdict is Verdict.GOOD
