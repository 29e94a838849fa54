"""``voicelog doctor``: what is installed, which ear will hear, and what is kept where."""

from __future__ import annotations

import platform
from collections.abc import Iterable, Iterator

import click

from voicelog import __version__
from voicelog.announce.lookup import VoiceStatus, voices
from voicelog.cli.doctor_storage import storage_lines
from voicelog.cli.paragraphs import say
from voicelog.config.settings import Settings, load_settings
from voicelog.domain.inert import inert
from voicelog.errors import EarFault, MicrophoneFault
from voicelog.recognise.lookup import ONLY_BY_NAME, EarStatus, ears
from voicelog.recognise.vosk_cost import load_cost
from voicelog.recognise.vosk_models import find_model
from voicelog.tongue import worded, worded_many


@click.command()
@click.option("--listen", is_flag=True, help="Try the microphone: its level, and how it sounds.")
@click.option("--microphone", metavar="NAME", help="Its number, or a part of its name.")
@click.option("--licences", is_flag=True, help="Whose work this is made of, and on what terms.")
def doctor(listen: bool, microphone: str | None, licences: bool) -> None:
    """Say what is installed, which ear will be used, and what is kept where on this machine.

    \b
      voicelog doctor --licences                  whose work this is made of
      voicelog doctor --listen                    a level meter, and your voice
      voicelog doctor --listen --microphone usb   the same with another microphone
    """
    if licences:
        from voicelog.cli.doctor_licences import licence_lines

        for line in licence_lines():
            say(line)
        return
    settings = load_settings({"microphone": microphone})
    if listen:
        from voicelog.cli.doctor_listen import try_out

        try_out(settings.microphone, settings.speaker)
        return
    say(
        worded(
            "voicelog {version}, Python {python_version}, {system} {machine}",
            version=__version__,
            python_version=platform.python_version(),
            system=platform.system(),
            machine=platform.machine(),
        )
    )
    say("\n" + worded("Ears"))
    ready = _tell(ears(adapted=settings.adapted))
    for line in _vosk_lines() if "vosk" in ready else ():
        say(f"  {line}")
    chosen = _chosen(settings.ear, [name for name in ready if name != "typed"])
    hears = worded("nothing can hear yet; voicelog read works all the same")
    say("  " + (worded("will hear: {ear}", ear=chosen) if chosen else hears))
    say(f"  {_second(settings, chosen, ready)}")
    say("\n" + worded("Voices"))
    chosen = _chosen(settings.voice, _tell(voices()))
    speaks = worded("nothing can speak; tones sound all the same")
    say("  " + (worded("will speak: {voice}", voice=chosen) if chosen else speaks))
    say("\n" + worded("Microphone"))
    for line in _microphones(settings.microphone):
        say(f"  {line}")
    say("\n" + worded("Storage: what is kept on this machine"))
    for line in storage_lines(settings):
        say(line)


def _tell(found: Iterable[EarStatus | VoiceStatus]) -> list[str]:
    """A line for each ear or voice, what to do about those that are absent, and who is ready."""
    ready = []
    for one in found:
        stands = worded("ready") if one.ready else worded("absent")
        say(f"  {stands:<6}  {one.name:<9} {one.detail}", into=20)
        if one.ready:
            ready.append(one.name)
        elif one.hint:
            say("          " + worded("to get it: {hint}", hint=one.hint))
    return ready


def _chosen(wanted: str, ready: list[str]) -> str:
    """The one named, or the first where any will do; empty where it is not ready."""
    if wanted != "auto":
        return wanted if wanted in ready else ""
    return next((name for name in ready if name not in ONLY_BY_NAME), "")


def _vosk_lines() -> Iterator[str]:
    """What the model of the Vosk ear takes; it is loaded once to see."""
    folder = find_model()
    if folder is None:
        return
    try:
        cost = load_cost(folder)
    except EarFault as fault:
        yield inert(str(fault))
        return
    memory = (
        ""
        if cost.memory_mb is None
        else worded(", {memory_mb} MB of memory", memory_mb=cost.memory_mb)
    )
    yield worded(
        "the model of vosk: {disk_mb} MB on the disk, loads in {load_s} s{memory}",
        disk_mb=cost.disk_mb,
        load_s=f"{cost.load_s:.1f}",
        memory=memory,
    )


def _second(settings: Settings, first: str, ready: list[str]) -> str:
    """Whether a second ear hears what the first one is not sure of."""
    if settings.second_ear == "off":
        return worded("will hear again what was unsure: nothing (second_ear is off)")
    used = "second" in ready and first not in ("", "second") and settings.grammar is None
    if used:
        return worded("will hear again what was unsure: {ear}", ear="second")
    return worded("will hear again what was unsure: nothing")


def _microphones(wanted: str | None) -> Iterator[str]:
    """Every microphone with its number, and the one that will be used; PortAudio is asked here."""
    from voicelog.capture.devices import choose_input, inputs

    try:
        found = inputs()
        for one in found:
            mark = "*" if one.is_default else " "
            channels = worded_many("{count} channel", "{count} channels", one.channels)
            yield worded(
                "{mark} {index}  {one} ({system}, {rate_hz} Hz, {channels})",
                mark=mark,
                index=f"{one.index:>2}",
                one=inert(one.name),
                system=one.system,
                rate_hz=one.rate_hz,
                channels=channels,
            )
        if not found:
            yield worded("none found; plug one in, or use recordings")
            return
        yield worded(
            "will listen: {choose_input} (* is the system's own choice)",
            choose_input=inert(choose_input(wanted).name),
        )
        yield worded("to try it: voicelog doctor --listen")
    except MicrophoneFault as fault:
        yield inert(str(fault))
