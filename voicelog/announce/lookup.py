"""Which voice to use, and which voices this machine has."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from voicelog.announce.built_in_voice import BuiltInVoice, model_file
from voicelog.announce.espeak_voice import EspeakVoice, command
from voicelog.announce.voice import NoVoice, Remembering, Voice
from voicelog.domain.choices import VOICES
from voicelog.errors import UsageFault, VoiceFault
from voicelog.tongue import joined, worded


@dataclass(frozen=True, slots=True)
class VoiceStatus:
    """Whether a voice can be used here.

    Args:
        name: as given to :func:`open_voice`.
        ready: it can.
        detail: what it would use, or why it cannot.
        hint: what to do about it; empty when it is ready.
    """

    name: str
    ready: bool
    detail: str
    hint: str = ""


def open_voice(name: str) -> Voice:
    """Open a voice; its model is loaded with its first sentence.

    Args:
        name: ``auto`` (the first that can be used, ``none`` if there is no other), ``built-in``,
            ``espeak-ng`` or ``none``.

    Raises:
        UsageFault: when there is no voice of that name.
        VoiceFault: when the voice named cannot be used here.
    """
    if name not in VOICES:
        raise UsageFault(
            worded("There is no voice {name}", name=repr(name)),
            worded("Choose one of {names}", names=", ".join(VOICES)),
        )
    if name == "auto":
        return _first()
    return NoVoice() if name == "none" else Remembering(_OPEN[name]())


def voices() -> tuple[VoiceStatus, ...]:
    """Every voice, in the order in which ``auto`` tries them, and whether it can be used."""
    return (
        _status(
            "built-in",
            lambda: worded(
                "the voice that hibari-tts carries, in {folder}", folder=model_file().parent
            ),
        ),
        _status("espeak-ng", command),
        VoiceStatus("none", True, worded("tones only")),
    )


_OPEN: dict[str, Callable[[], Voice]] = {"built-in": BuiltInVoice, "espeak-ng": EspeakVoice}


def _first() -> Voice:
    why = list[str]()
    for open_one in _OPEN.values():
        try:
            return Remembering(open_one())
        except VoiceFault as fault:
            why.append(str(fault))
    return NoVoice(joined("; ", why))


def _status(name: str, detail: Callable[[], str]) -> VoiceStatus:
    try:
        return VoiceStatus(name, True, detail())
    except VoiceFault as fault:
        return VoiceStatus(name, False, fault.message, fault.hint)
