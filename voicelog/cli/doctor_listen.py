"""``voicelog doctor --listen``: a level meter, three seconds recorded and played back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager

from rich.console import Console
from rich.live import Live
from rich.text import Text

from voicelog.capture.microphone import Microphone
from voicelog.capture.playback import play_back
from voicelog.cli.show import console
from voicelog.domain.inert import inert
from voicelog.errors import MicrophoneFault
from voicelog.runtime.listen_check import METER_S, RECORD_S, Checked, Shown, listen_check
from voicelog.runtime.listen_flaws import REMEDY
from voicelog.runtime.listen_verdict import ADVICE, Levels, Verdict
from voicelog.tongue import worded

LOWEST_DBFS = -72.0
"""Left end of the bar."""

WIDTH = 48


def try_out(microphone: str | None, speaker: str | None) -> None:
    """Run the check and tell how it went.

    Raises:
        MicrophoneFault: there is no such microphone, or it gives no sound.
    """
    out = console()
    with closing(Microphone(microphone)) as source:
        out.print(Text(worded("Listening to {device}.", device=inert(source.device))))
        out.print(
            worded(
                "{meter_s} s of level; then say a sentence for {record_s} s.",
                meter_s=f"{METER_S:g}",
                record_s=f"{RECORD_S:g}",
            )
        )
        with _meter(out) as show:
            for step in listen_check(source, lambda pcm: _play(out, pcm, speaker)):
                if isinstance(step, Checked):
                    _tell(out, step)
                else:
                    show(step)


def _play(out: Console, pcm: bytes, speaker: str | None) -> None:
    """Play it; without a speaker the rest of the check still stands."""
    out.print(worded("Playing it back …"))
    try:
        play_back(pcm, speaker)
    except MicrophoneFault as fault:
        out.print(Text(worded("Not played: {fault}", fault=inert(str(fault)))))


def _tell(out: Console, checked: Checked) -> None:
    levels = checked.levels
    lost = worded(", {lost_s} s lost", lost_s=f"{checked.lost_s:.2f}") if checked.lost_s else ""
    out.print(
        worded(
            "Speech {speech_dbfs} dBFS, noise {noise_dbfs} dBFS{lost}",
            speech_dbfs=f"{levels.speech_dbfs:.0f}",
            noise_dbfs=f"{levels.noise_dbfs:.0f}",
            lost=lost,
        )
    )
    told = {worded(flaw.value): worded(REMEDY[flaw]) for flaw in checked.flaws}
    if not told or levels.verdict is not Verdict.GOOD:
        told = {worded(levels.verdict.value): worded(ADVICE[levels.verdict]), **told}
    for what, advice in told.items():
        out.print(f"{what[0].upper()}{what[1:]}. {advice}.", highlight=False)


@contextmanager
def _meter(out: Console) -> Iterator[Callable[[Shown], None]]:
    """A bar that moves on a terminal; elsewhere one line a second."""
    if out.is_terminal:
        with Live(console=out, auto_refresh=False, transient=True) as live:
            yield lambda shown: live.update(_bar(shown), refresh=True)
    else:
        seconds = _Seconds(out)
        yield seconds.show


class _Seconds:
    """Prints a reading whenever another second has passed."""

    def __init__(self, out: Console) -> None:
        self._out, self._last = out, (False, -1)

    def show(self, shown: Shown) -> None:
        """Print it, unless one was printed for this second."""
        second = (shown.recording, int(shown.left_s))
        if second != self._last:
            self._last = second
            self._out.print(f"{_part(shown)}: {_figures(shown.level_dbfs, shown.levels)}")


def _bar(shown: Shown) -> Text:
    """The level as a bar, the noise floor as a mark in it, and the verdict so far."""
    filled, noise = _place(shown.level_dbfs), _place(shown.levels.noise_dbfs)
    cells = ["█" if place < filled else "·" for place in range(WIDTH)]
    cells[min(noise, WIDTH - 1)] = "|"
    return Text(
        f"{_part(shown):<9} {shown.left_s:3.1f} s  {''.join(cells)}\n"
        f"{_figures(shown.level_dbfs, shown.levels)}"
    )


def _part(shown: Shown) -> str:
    return "recording" if shown.recording else "level"


def _figures(level_dbfs: float, levels: Levels) -> str:
    return worded(
        "{level_dbfs} dBFS, noise {noise_dbfs} dBFS, so far {verdict}",
        level_dbfs=f"{level_dbfs:.0f}",
        noise_dbfs=f"{levels.noise_dbfs:.0f}",
        verdict=worded(levels.verdict.value),
    )


def _place(level_dbfs: float) -> int:
    """Cells of the bar up to a level."""
    return max(0, min(WIDTH, round((level_dbfs / -LOWEST_DBFS + 1) * WIDTH)))
