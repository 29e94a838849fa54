"""``voicelog sounds``: what every tone means, drawn, played, or written to files."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from voicelog.announce.announcer import Announcer, open_announcer
from voicelog.announce.drawing import drawing
from voicelog.announce.lookup import open_voice
from voicelog.announce.recording import write_spoken, write_tones
from voicelog.announce.voice import Voice
from voicelog.cli.paragraphs import say
from voicelog.config.settings import load_settings
from voicelog.domain.choices import VOICES
from voicelog.domain.inert import inert
from voicelog.domain.signal import MEANINGS, Signal
from voicelog.errors import UsageFault, VoiceFault
from voicelog.tongue import as_it_is, worded

_MEANING = 39
"""Columns in front of what a tone means."""
PATIENCE_S = 300.0
"""Nothing that is said here takes as long."""


@click.command()
@click.option(
    "--write",
    "folder",
    metavar="DIR",
    type=click.Path(path_type=Path),
    help="Write WAV files there instead of playing.",
)
@click.option("--say", "text", metavar="TEXT", help="Say this sentence instead of the tones.")
@click.option("--voice", type=click.Choice(VOICES), help="Who speaks [auto].")
@click.option(
    "--speaker", metavar="NAME", help="The output device: its number, or a part of its name."
)
def sounds(
    folder: Path | None, text: str | None, voice: str | None, speaker: str | None
) -> None:  # fmt: skip
    """Show what each tone means and play them one after the other.

    Every signal has a rhythm of its own: a longer line is a longer note, a higher one a higher
    note. Nothing of this uses the network.
    """
    settings = load_settings({"voice": voice, "speaker": speaker})
    if folder is not None and text is not None:
        path = write_spoken(folder, _voice_for_words(settings.voice).speak(text))
        say(worded("Written: {path}", path=inert(str(path))))
    elif folder is not None:
        _list_tones()
        say(
            "\n"
            + worded(
                "Written: {count} WAV files in {folder}",
                count=len(write_tones(folder)),
                folder=inert(str(folder)),
            )
        )
    elif text is not None:
        _say(text, settings.voice, settings.speaker)
    else:
        _play_tones(settings.voice, settings.speaker, named=speaker is not None)


def _list_tones() -> None:
    for signal in Signal:
        say(_line(signal), into=_MEANING)


def _line(signal: Signal) -> str:
    """Name, rhythm and meaning, in ASCII where the terminal knows nothing else."""
    drawn = drawing(signal)
    try:
        drawn.encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        drawn = drawing(signal, plain=True)
    return f"{signal:<16}{drawn:<{_MEANING - 16}}{MEANINGS[signal]}"


def _play_tones(voice: str, speaker: str | None, *, named: bool) -> None:
    """Each line as its tone sounds; without a speaker, the lines and the reason."""
    with _announcer(voice, speaker) as announcer:
        heard = announcer.audible
        if named and not heard:
            raise VoiceFault(as_it_is(announcer.why))
        for signal in Signal:
            say(_line(signal), into=_MEANING)
            if heard:
                announcer.say(signal.replace("-", " "))
                announcer.wait(PATIENCE_S)
                announcer.signal(signal)
                announcer.wait(PATIENCE_S)
        if not heard:
            say("\n" + worded("Nothing was played. {why}.", why=inert(announcer.why)))
            say(worded("To listen elsewhere: voicelog sounds --write DIR"))


def _say(text: str, voice: str, speaker: str | None) -> None:
    _voice_for_words(voice)
    with _announcer(voice, speaker) as announcer:
        if not announcer.audible:
            raise VoiceFault(
                as_it_is(announcer.why), worded("Add --write DIR to have it as a WAV file")
            )
        announcer.say(text)
        announcer.wait(PATIENCE_S)


def _voice_for_words(name: str) -> Voice:
    """A voice that can speak.

    Raises:
        VoiceFault: none can be used here.
        UsageFault: none was chosen.
    """
    voice = open_voice(name)
    if voice.name != "none":
        return voice
    if name == "none":
        raise UsageFault(
            worded('The voice "none" says nothing'), worded("Choose another with --voice")
        )
    raise VoiceFault(worded("No voice can be used here"), as_it_is(getattr(voice, "why", "")))


@contextmanager
def _announcer(voice: str, speaker: str | None) -> Iterator[Announcer]:
    """What plays, and after it what went wrong."""
    faults = list[str]()
    announcer = open_announcer(voice, speaker, on_fault=faults.append)
    try:
        yield announcer
    finally:
        announcer.close()
    for fault in faults:
        say(f"voicelog: {inert(fault)}", err=True)
