"""From settings and wishes to an engine ready to start."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from voicelog.announce.announcer import Announcer, open_announcer
from voicelog.capture.devices import steady_name
from voicelog.capture.incoming import Source
from voicelog.capture.microphone import Microphone
from voicelog.capture.rehearse import rehearsal
from voicelog.config.data import grammar_dir, samples_dir
from voicelog.config.machine import remember
from voicelog.config.places import map_names
from voicelog.config.settings import Settings
from voicelog.errors import VoicelogError
from voicelog.runtime.going_on import LAST, Earlier, earlier_log, newest_open
from voicelog.runtime.live import LiveEngine, Order, Tell
from voicelog.runtime.opening import readable
from voicelog.runtime.set_up import SetUpQuestion, questions

PAUSE_S = 1.0
"""Quiet between two recordings of a rehearsal."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a person asked for beside the settings.

    Args:
        subject: what is inspected; empty when it is to be asked.
        resume: a log's folder, or :data:`LAST`; empty for a new one.
        ask: ask what no flag has said.
        map_given: the map was chosen.
        rehearse: recordings are played in place of a microphone.
        recordings: which; the bundled ones when empty.
        speed: of the recordings: 1 is as fast as they were spoken.
        microphone: asked for just now, to be remembered.
        vehicle: what is known of the vehicle, as a ``vehicle`` line sets it.
    """

    subject: str = ""
    resume: str = ""
    ask: bool = True
    map_given: bool = False
    rehearse: bool = False
    recordings: tuple[Path, ...] = ()
    speed: float = 1.0
    microphone: str = ""
    vehicle: Mapping[str, Any] = field(default_factory=dict)


def launch(settings: Settings, wishes: Wishes) -> LiveEngine:
    """An engine ready to start.

    Raises:
        InputFault: there is no log to go on with, or no such recording.
        LogFault: the log to go on with is damaged.
    """
    readable(wishes.recordings)
    earlier = _earlier(settings, wishes)
    order = Order(
        earlier.settings if earlier else settings,
        subject=earlier.subject if earlier else _subject(wishes),
        earlier=earlier,
        rehearsal=wishes.rehearse,
        vehicle=wishes.vehicle,
        questions=()
        if earlier or not wishes.ask or wishes.rehearse
        else _questions(settings, wishes),
    )
    return LiveEngine(
        order,
        source=_source(settings, wishes),
        announcer=lambda fault: open_announcer(settings.voice, settings.speaker, on_fault=fault),
    )


def _earlier(settings: Settings, wishes: Wishes) -> Earlier | None:
    if not wishes.resume:
        return None
    last = wishes.resume == LAST and not Path(LAST).exists()
    return earlier_log(newest_open(settings.into) if last else Path(wishes.resume), settings)


def _subject(wishes: Wishes) -> str:
    return wishes.subject or ("rehearsal" if wishes.rehearse else "")


def _questions(settings: Settings, wishes: Wishes) -> tuple[SetUpQuestion, ...]:
    maps = map_names(settings.grammar or grammar_dir())
    stood = str(wishes.vehicle.get("stood", ""))
    given = wishes.map_given or settings.map_chosen
    return tuple(questions(settings, wishes.subject, maps, map_given=given, stood=stood))


def _source(settings: Settings, wishes: Wishes) -> Callable[[Announcer, Tell], Source]:
    """What opens the microphone, or the recordings that stand in for one."""
    if wishes.rehearse:
        recordings = wishes.recordings or bundled()
        return lambda _announcer, _tell: rehearsal(recordings, pause_s=PAUSE_S, speed=wishes.speed)[
            0
        ]

    def microphone(announcer: Announcer, tell: Tell) -> Source:
        opened = Microphone(settings.microphone, alone=announcer.aside)
        if wishes.microphone:
            _keep_in_mind(wishes.microphone, opened.device, tell)
        return opened

    return microphone


def _keep_in_mind(wanted: str, device: str, tell: Tell) -> None:
    """The microphone that was asked for is the one from now on; a file that is in the way costs
    no inspection.
    """
    try:
        remember(microphone=steady_name(wanted, device))
    except VoicelogError as fault:
        tell(str(fault))


def bundled() -> tuple[Path, ...]:
    """The recordings that come with the program, in the order of their inspection."""
    manifest = json.loads((samples_dir() / "manifest.json").read_text(encoding="utf-8"))
    return tuple(samples_dir() / utterance["file"] for utterance in manifest["utterances"])
