"""One sentence spoken at the bench, in place of one that was misheard."""

from __future__ import annotations

from collections.abc import Callable

from voicelog.capture.endpoint import Endpointer
from voicelog.capture.incoming import Dropped, Ended, Gone, Incoming, Sound, Source
from voicelog.capture.mute import WHY as MUTED
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE, Clip
from voicelog.errors import MicrophoneFault, UsageFault
from voicelog.recognise.port import Ear, hear_clip
from voicelog.runtime.opening import open_the_ear
from voicelog.tongue import worded

PATIENCE_S = 12.0
"""Silence after which nobody seems to speak; ours."""

_STEP_S = 0.1


def dictate(
    settings: Settings,
    grammar: Grammar,
    source: Callable[[], Source],
    *,
    ear: Callable[[Settings, Grammar], Ear] = open_the_ear,
    endpointer: Callable[[], Endpointer] | None = None,
    listening: Callable[[], None] = lambda: None,
    stopped: Callable[[], bool] = lambda: False,
    patience_s: float = PATIENCE_S,
) -> tuple[Heard, Clip]:
    """Listen to one utterance and say what was heard; nothing is written.

    The ear is made ready before the microphone is opened, so that no word is lost meanwhile.

    Args:
        settings: which ear, and how utterances are told apart.
        grammar: the log's own, for an ear that leans towards it.
        source: opens the microphone; it is closed in any case.
        ear: opens the ear.
        endpointer: what cuts the sound; made from the settings when left out.
        listening: told once when one may speak.
        stopped: asked ten times a second whether nobody waits for it any more.
        patience_s: silence after which it is given up.

    Returns:
        What the ear made of the utterance, and its sound.

    Raises:
        EarFault: there is no ear.
        MicrophoneFault: there is no microphone, or it went away.
        UsageFault: nobody spoke, it was stopped, or nothing was understood.
    """
    opened = ear(settings, grammar)
    try:
        cutter = endpointer() if endpointer is not None else _endpointer(settings)
        microphone = source()
        try:
            listening()
            clip = _first_utterance(microphone, cutter, stopped, patience_s)
        finally:
            microphone.close()
        heard = hear_clip(opened, clip)
    finally:
        opened.close()
    if not heard.text.strip():
        raise UsageFault(worded("Nothing was understood"), worded("Say it again, or type it"))
    return heard, clip


def open_microphone(settings: Settings) -> Source:
    """The microphone that the settings name.

    Raises:
        MicrophoneFault: there is no such device, or it cannot be opened.
    """
    from voicelog.capture.microphone import Microphone

    return Microphone(settings.microphone)


def _endpointer(settings: Settings) -> Endpointer:
    return Endpointer(
        silence_s=settings.silence_s, preroll_s=settings.preroll_s, longest_s=settings.longest_s
    )


def _first_utterance(
    source: Source, endpointer: Endpointer, stopped: Callable[[], bool], patience_s: float
) -> Clip:
    quiet_s = 0.0
    while quiet_s < patience_s and not stopped():
        came = source.read(_STEP_S)
        clips = _taken(came, endpointer)
        if clips:
            return clips[0]
        if isinstance(came, Ended):
            break
        quiet_s = 0.0 if endpointer.speaking else quiet_s + _length_s(came)
    raise UsageFault(worded("Nobody was heard to speak"), worded("Try again, or type the sentence"))


def _taken(came: Incoming | None, endpointer: Endpointer) -> list[Clip]:
    match came:
        case Sound():
            return endpointer.feed(came.pcm)
        case Dropped():
            return endpointer.gap(came.lost_s)
        case Gone() if came.why != MUTED:
            raise MicrophoneFault(
                worded("{device} gives no sound any more: {why}", device=came.device, why=came.why),
                worded("Type the sentence instead"),
            )
        case Ended():
            return endpointer.finish()
    return []


def _length_s(came: Incoming | None) -> float:
    return len(came.pcm) / BYTES_PER_SAMPLE / SAMPLE_RATE if isinstance(came, Sound) else _STEP_S
