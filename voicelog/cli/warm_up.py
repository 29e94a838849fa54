"""``voicelog warm-up``: two minutes in which the ear gets to know a voice."""

from __future__ import annotations

import json
import math
import sys
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import click

from voicelog.capture.devices import steady_name
from voicelog.capture.incoming import Source
from voicelog.cli.flags import settings_from, vocabulary
from voicelog.cli.paragraphs import say
from voicelog.cli.warm_up_lines import as_document
from voicelog.cli.warm_up_screen import Shown
from voicelog.config.data import samples_dir
from voicelog.config.machine import forget, remember
from voicelog.config.settings import Settings, load_settings
from voicelog.errors import InputFault, MicrophoneFault, VoicelogError
from voicelog.export.json_file import json_text
from voicelog.runtime.opening import readable
from voicelog.runtime.warm_up import Learned
from voicelog.runtime.warm_up_listening import End
from voicelog.tongue import worded

REHEARSAL_PAUSE_S = 1.5
"""Quiet between recordings, so that each is an utterance of its own."""


@click.command("warm-up")
@click.argument("audio", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--microphone",
    metavar="NAME",
    help="Input device: its number or a part of its name; remembered.",
)
@click.option(
    "--rehearse",
    is_flag=True,
    help="Hear the bundled recordings, or AUDIO, in place of a microphone; nothing is remembered.",
)
@click.option(
    "--rounds",
    type=click.IntRange(1, 10),
    default=1,
    show_default=True,
    help="Times two dozen sentences.",
)
@click.option(
    "--phrases",
    type=click.Path(path_type=Path),
    help="Your own sentences, one a line, in place of the chosen ones.",
)
@vocabulary
@click.option(
    "--forget",
    "forgetting",
    is_flag=True,
    help="Forget the bias found earlier, and do nothing else.",
)
@click.option("--json", "as_json", is_flag=True, help="Print what was learned as one JSON object.")
def warm_up(
    audio: tuple[Path, ...], rehearse: bool, rounds: int, phrases: Path | None,
    forgetting: bool, as_json: bool, **flags: Any,
) -> None:  # fmt: skip
    """Say two dozen sentences of your own map: see which words the ear confuses, and tune it to you.

    \b
      voicelog warm-up                two minutes; Enter or "next" skips one
      voicelog warm-up --rehearse     on bundled recordings, no microphone
      voicelog warm-up --forget       forget what an earlier one found

    Nothing leaves this machine. The sound is kept in memory only, and forgotten at the end.
    """
    if forgetting:
        say(
            worded(
                "The bias found earlier is forgotten ({forget}).", forget=forget("bias", "bias_on")
            )
        )
        return
    readable(audio)
    rehearse = rehearse or bool(audio)
    recordings, texts = _bundled() if rehearse and not audio else (audio, None)
    if phrases is not None:
        texts = _lines(phrases)
    settings, chosen = settings_from(flags), flags["microphone"]
    with Shown(sys.stderr if as_json else sys.stdout, keys=not rehearse) as shown:
        learned = _learn(settings, recordings if rehearse else None, texts, rounds, shown)
        shown.report(learned)
        kept = None if rehearse else _remember(learned, chosen, shown)
        if learned.tuning is not None and learned.tuning.moved:
            shown.note(_what_holds(learned.tuning.bias, rehearse=rehearse, kept=kept))
    if as_json:
        click.echo(json_text(as_document(learned, kept)), nl=False)
    _refuse_silence(learned)


def _learn(
    settings: Settings,
    recordings: tuple[Path, ...] | None,
    texts: list[str] | None,
    rounds: int,
    shown: Shown,
) -> Learned:
    """Everything that needs the microphone, or the recordings in its place, and the ear."""
    from voicelog.runtime.warm_up import WarmUp

    with (
        closing(WarmUp(settings, texts=texts, rounds=rounds)) as warm,
        closing(_source(settings, recordings)) as source,
    ):
        shown.greet(source.device, len(warm.prompts))
        return warm.run(source, shown)


def _source(settings: Settings, recordings: tuple[Path, ...] | None) -> Source:
    """The microphone, or the recordings as fast as they can be heard."""
    if recordings is None:
        from voicelog.capture.microphone import Microphone

        return Microphone(settings.microphone)
    from voicelog.capture.rehearse import rehearsal

    source, _ = rehearsal(recordings, pause_s=REHEARSAL_PAUSE_S, speed=math.inf)
    return source


def _remember(learned: Learned, chosen: str | None, shown: Shown) -> Path | None:
    """Write down what is worth it; what keeps it from being written is told and costs nothing else."""
    values: dict[str, Any] = {}
    if chosen and learned.takes:
        values["microphone"] = steady_name(chosen, learned.device)
    if learned.tuning is not None and learned.tuning.moved:
        values |= {"bias": learned.tuning.bias, "bias_on": date.today()}
    try:
        return remember(**values) if values else None
    except VoicelogError as fault:
        shown.note(str(fault))
        return None


def _what_holds(bias: float, *, rehearse: bool, kept: Path | None) -> str:
    """Whether what was found is in force from now on."""
    if rehearse:
        return worded("It is not remembered: this was a rehearsal.")
    if kept is None:
        return worded("It could not be remembered.")
    in_force = load_settings().bias
    if in_force != bias:
        return worded(
            "It is remembered, but your settings file or VOICELOG_BIAS says {in_force}, and "
            "that holds. Delete it there to use what was found.",
            in_force=f"{in_force:g}",
        )
    return worded("It holds from now on ({kept}). To undo it: voicelog warm-up --forget", kept=kept)


def _refuse_silence(learned: Learned) -> None:
    """End with a fault where there was nothing to learn from, unless that was wished.

    Raises:
        MicrophoneFault: nothing was heard.
    """
    if not learned.takes and learned.end is not End.STOPPED:
        raise MicrophoneFault(
            worded("Nothing was heard from {device}", device=learned.device),
            worded("Try voicelog doctor --listen"),
        )


def _bundled() -> tuple[tuple[Path, ...], list[str]]:
    """The quiet recordings of the demonstration that say where and what, and their words."""
    folder = samples_dir()
    manifest = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    telling = [one for one in manifest["utterances"] if one["want"] and not one["noise"]]
    placed = [one for one in telling if "zone" in one["want"][0] and " " in one["text"]]
    return tuple(folder / one["file"] for one in placed), [one["text"] for one in placed]


def _lines(path: Path) -> list[str]:
    """The lines of a text file that hold something.

    Raises:
        InputFault: it cannot be read.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        why = getattr(error, "strerror", None) or worded("it is not UTF-8 text")
        raise InputFault(
            worded("{path} cannot be read: {why}", path=repr(str(path)), why=why),
            worded("Check the path"),
        ) from error
    return [line.strip() for line in text.splitlines() if line.strip()]
