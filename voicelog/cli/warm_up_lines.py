"""What a warm-up showed, as lines of text, advice and one JSON object."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from rich.table import Table
from rich.text import Text

from voicelog.domain.inert import inert
from voicelog.runtime.warm_up import Learned, Levels
from voicelog.runtime.warm_up_listening import End
from voicelog.runtime.warm_up_tuning import Tuning
from voicelog.runtime.warm_up_words import Confusion, Missed

QUIET_DBFS = -40.0
CLOSE_DB = 15.0
MANY_CLIPPED = 2
"""When to speak of the level: speech quieter than the first, less than the second above the noise,
or so many sentences past the limit. Ours, from the recordings of the demonstration."""

_MOST_SENTENCES = 2
_ENDS = {
    End.STOPPED: "Stopped; what follows is from the sentences said so far.",
    End.MICROPHONE_LOST: "The microphone is gone; what follows is from the sentences said so far.",
    End.SOUND_OVER: "The sound is over; what follows is from the sentences said so far.",
}


def result_lines(learned: Learned) -> Iterator[str]:
    """How it ended, and how much was understood."""
    if learned.end in _ENDS:
        yield _ENDS[learned.end]
    said, right = len(learned.takes), sum(take.right for take in learned.takes)
    yield (
        f"{said} of {learned.asked} sentences heard, {right} of them understood in full "
        f"by the {learned.ear} ear."
    )
    if not learned.takes:
        return
    if not learned.confusions:
        yield "Every word was heard right."


def confusion_table(confusions: Sequence[Confusion]) -> Table:
    """What was taken for what; without lines around it, so that it reads well anywhere."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), title_justify="left")
    for heading in ("said", "heard", "times", "understood anyway", "in"):
        table.add_column(heading, justify="right" if heading == "times" else "left")
    for one in confusions:
        anyway = "yes" if one.harmless == one.times else "no" if not one.harmless else "partly"
        heard = inert(one.heard) or "(nothing)"
        cells = (one.said, heard, str(one.times), anyway, _sentences(one.sentences))
        table.add_row(*map(Text, map(inert, cells)))
    return table


def missed_lines(missed: Sequence[Missed]) -> Iterator[str]:
    """Words never heard right, with what to say instead."""
    for one in missed:
        instead = ", or ".join(f"“{inert(way)}”" for way in one.instead)
        better = f"; of words heard well: {instead}" if instead else ""
        yield f"{inert(one.word)} ({one.times} of {one.times} wrong){better}"


def advice(learned: Learned) -> Iterator[str]:
    """What to do about it, the level first: it spoils everything else."""
    if learned.levels is not None:
        yield from _level_advice(learned.levels)
    if any(one.harmless < one.times for one in learned.confusions):
        yield "Say the words above slowly and apart, or use another of their names."
    aside = sum(take.other_words for take in learned.takes)
    if aside:
        yield f"Hardly a word was heard of {aside}: cut off, too noisy, or something else was said."


def tuning_lines(tuning: Tuning | None, *, ear: str) -> Iterator[str]:
    """What decoding again showed."""
    if tuning is None:
        yield f"The {ear} ear has no bias to tune: it is given the words themselves."
        return
    if tuning.trials:
        yield "Leaning to the vocabulary (bias), on what you said:"
    for trial in tuning.trials:
        now = "  as it was" if trial.bias == tuning.before else ""
        chosen = "  chosen" if tuning.moved and trial.bias == tuning.bias else ""
        rate = f"{100 * trial.word_error_rate:.0f} % of words wrong"
        yield f"  {trial.bias:.2f}  {trial.right} of {len(trial.takes)} right, {rate}{now}{chosen}"
    if tuning.moved:
        yield f"The bias {tuning.bias:g} suits you better than {tuning.before:g}: {tuning.why}."
    else:
        yield f"The bias stays at {tuning.before:g}: {tuning.why}."


def as_document(learned: Learned, remembered: Path | None) -> dict[str, Any]:
    """Everything as one JSON object."""
    tuning = learned.tuning
    return {
        "device": learned.device, "ear": learned.ear, "model": learned.model,
        "end": str(learned.end), "asked": learned.asked, "heard": len(learned.takes),
        "right": sum(take.right for take in learned.takes),
        "sentences": [
            {"said": take.prompt.text, "heard": take.heard, "right": take.right}
            for take in learned.takes
        ],
        "confusions": [asdict(one) for one in learned.confusions],
        "never_right": [asdict(one) for one in learned.missed],
        "levels": asdict(learned.levels) if learned.levels is not None else None,
        "advice": list(advice(learned)),
        "tuning": _tuning_document(tuning) if tuning is not None else None,
        "remembered": str(remembered) if remembered is not None else None,
    }  # fmt: skip


def _tuning_document(tuning: Tuning) -> dict[str, Any]:
    return {
        "before": tuning.before, "bias": tuning.bias, "moved": tuning.moved, "why": tuning.why,
        "trials": [
            {"bias": t.bias, "right": t.right, "word_error_rate": round(t.word_error_rate, 4)}
            for t in tuning.trials
        ],
    }  # fmt: skip


def _level_advice(levels: Levels) -> Iterator[str]:
    if levels.clipped >= MANY_CLIPPED:
        yield f"Too loud in {levels.clipped} sentences: turn the microphone's level down."
    if levels.speech_dbfs < QUIET_DBFS:
        yield (
            f"Speech is quiet ({levels.speech_dbfs:.0f} dB below full scale): move the microphone "
            "nearer or turn its level up."
        )
    if levels.noise_dbfs is not None and levels.speech_dbfs - levels.noise_dbfs < CLOSE_DB:
        above = levels.speech_dbfs - levels.noise_dbfs
        yield f"Speech is only {above:.0f} dB above the noise: move the microphone nearer."


def _sentences(sentences: Sequence[str]) -> str:
    shown = "; ".join(sentences[:_MOST_SENTENCES])
    more = len(sentences) - _MOST_SENTENCES
    return f"{shown} and {more} more" if more > 0 else shown
