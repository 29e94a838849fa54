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
from voicelog.tongue import to_word, worded

QUIET_DBFS = -40.0
CLOSE_DB = 15.0
MANY_CLIPPED = 2
"""When to speak of the level: speech quieter than the first, less than the second above the noise,
or so many sentences past the limit. Ours, from the recordings of the demonstration."""

_MOST_SENTENCES = 2
_ENDS = {
    End.STOPPED: to_word("Stopped; what follows is from the sentences said so far."),
    End.MICROPHONE_LOST: to_word(
        "The microphone is gone; what follows is from the sentences said so far."
    ),
    End.SOUND_OVER: to_word("The sound is over; what follows is from the sentences said so far."),
}


def result_lines(learned: Learned) -> Iterator[str]:
    """How it ended, and how much was understood."""
    if learned.end in _ENDS:
        yield worded(_ENDS[learned.end])
    said, right = len(learned.takes), sum(take.right for take in learned.takes)
    yield (
        worded(
            "{said} of {asked} sentences heard, {right} of them understood in full by the "
            "{ear} ear.",
            said=said,
            asked=learned.asked,
            right=right,
            ear=learned.ear,
        )
    )
    if not learned.takes:
        return
    if not learned.confusions:
        yield worded("Every word was heard right.")


def confusion_table(confusions: Sequence[Confusion]) -> Table:
    """What was taken for what; without lines around it, so that it reads well anywhere."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), title_justify="left")
    for heading in (worded("said"), worded("heard")):
        table.add_column(heading)
    table.add_column(worded("times"), justify="right")
    for heading in (worded("understood anyway"), worded("in")):
        table.add_column(heading)
    for one in confusions:
        anyway = worded("partly") if one.harmless else worded("no")
        anyway = worded("yes") if one.harmless == one.times else anyway
        heard = inert(one.heard) or worded("(nothing)")
        cells = (one.said, heard, str(one.times), anyway, _sentences(one.sentences))
        table.add_row(*map(Text, map(inert, cells)))
    return table


def missed_lines(missed: Sequence[Missed]) -> Iterator[str]:
    """Words never heard right, with what to say instead."""
    for one in missed:
        instead = worded(", or ").join(f"“{inert(way)}”" for way in one.instead)
        better = worded("; of words heard well: {instead}", instead=instead) if instead else ""
        yield worded(
            "{word} ({times} of {times} wrong){better}",
            word=inert(one.word),
            times=one.times,
            better=better,
        )


def advice(learned: Learned) -> Iterator[str]:
    """What to do about it, the level first: it spoils everything else."""
    if learned.levels is not None:
        yield from _level_advice(learned.levels)
    if any(one.harmless < one.times for one in learned.confusions):
        yield worded("Say the words above slowly and apart, or use another of their names.")
    aside = sum(take.other_words for take in learned.takes)
    if aside:
        yield worded(
            "Hardly a word was heard of {aside}: cut off, too noisy, or something else was said.",
            aside=aside,
        )


def tuning_lines(tuning: Tuning | None, *, ear: str) -> Iterator[str]:
    """What decoding again showed."""
    if tuning is None:
        yield worded(
            "The {ear} ear has no bias to tune: it is given the words themselves.", ear=ear
        )
        return
    if tuning.trials:
        yield worded("Leaning to the vocabulary (bias), on what you said:")
    for trial in tuning.trials:
        now = ("  " + worded("as it was")) if trial.bias == tuning.before else ""
        chosen = ("  " + worded("chosen")) if tuning.moved and trial.bias == tuning.bias else ""
        rate = worded("{percent} % of words wrong", percent=f"{100 * trial.word_error_rate:.0f}")
        yield (
            "  "
            + worded(
                "{bias}  {right} of {count} right, {rate}{now}{chosen}",
                bias=f"{trial.bias:.2f}",
                right=trial.right,
                count=len(trial.takes),
                rate=rate,
                now=now,
                chosen=chosen,
            )
        )
    if tuning.moved:
        yield worded(
            "The bias {bias} suits you better than {before}: {why}.",
            bias=f"{tuning.bias:g}",
            before=f"{tuning.before:g}",
            why=tuning.why,
        )
    else:
        yield worded(
            "The bias stays at {before}: {why}.", before=f"{tuning.before:g}", why=tuning.why
        )


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
        yield worded(
            "Too loud in {clipped} sentences: turn the microphone's level down.",
            clipped=levels.clipped,
        )
    if levels.speech_dbfs < QUIET_DBFS:
        yield (
            worded(
                "Speech is quiet ({speech_dbfs} dB below full scale): move the microphone "
                "nearer or turn its level up.",
                speech_dbfs=f"{levels.speech_dbfs:.0f}",
            )
        )
    if levels.noise_dbfs is not None and levels.speech_dbfs - levels.noise_dbfs < CLOSE_DB:
        above = levels.speech_dbfs - levels.noise_dbfs
        yield worded(
            "Speech is only {above} dB above the noise: move the microphone nearer.",
            above=f"{above:.0f}",
        )


def _sentences(sentences: Sequence[str]) -> str:
    shown = "; ".join(sentences[:_MOST_SENTENCES])
    more = len(sentences) - _MOST_SENTENCES
    return worded("{shown} and {more} more", shown=shown, more=more) if more > 0 else shown
