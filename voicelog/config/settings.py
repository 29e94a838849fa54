"""A person's settings in layers: shipped, what the machine remembers, their file, the environment,
the command line.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from voicelog.config.machine import FILE as REMEMBERED
from voicelog.domain.reading import Speech
from voicelog.domain.signal import Talk
from voicelog.domain.zone import Rails
from voicelog.errors import UsageFault
from voicelog.tongue import worded

PREFIX = "VOICELOG_"
"""How the environment's variables of settings begin."""


def default_into() -> Path:
    """Where logs go when nobody says otherwise."""
    from platformdirs import user_data_path

    return user_data_path("voicelog", appauthor=False) / "inspections"


def default_user_file() -> Path:
    """The settings file that is read when it exists."""
    from platformdirs import user_config_path

    return user_config_path("voicelog", appauthor=False) / "settings.toml"


@dataclass(frozen=True)
class Settings:
    """What a person can set.

    Args:
        map: zone map: a name, or the path of a map file.
        map_chosen: somebody has set the map, so that nobody needs to ask.
        rails: how the vehicle's rails are made.
        speech: how this speaker's words are to be taken.
        ear: recogniser: ``auto``, ``built-in``, ``vosk``, ``second`` or ``typed``.
        second_ear: ``auto`` (a second recogniser, where its extra is installed, hears what the first
            one was not sure of) or ``off``.
        model: folder of a Vosk model.
        bias: how strongly the built-in ear leans to the grammar's phrases, in nats a character.
        beam: how many hypotheses the built-in ear keeps.
        adapted: the built-in ear hears with its corrections for inspections in shop noise.
        silence_s: silence that ends an utterance.
        preroll_s: sound kept from before the speech was noticed.
        longest_s: length at which an utterance is cut.
        into: folder in which the logs' folders are made.
        attention: the word before "go ahead" that ends stand-by; unless changed, the grammar's own.
        overlays: the shop's own grammar files, later ones on top.
        grammar: folder of another grammar, for example of another language.
        learned: folder of what was learned from corrections, whose files lie under ``overlays``; None
            uses nothing of the kind.
        inspector: name of the person who corrects and signs; empty means the machine's user.
        microphone: the input device: its number, or a part of its name; None means the system's.
        speaker: the output device, in the same way.
        voice: what reads back: ``auto``, ``built-in``, ``espeak-ng`` or ``none``.
        talk: how much is said aloud.
        push_to_talk: ``off`` (hands-free), ``hold`` or ``toggle``.
        pedal: the key that a pedal or remote sends, by its name in the terminal.
        ask_s: seconds in which a question can be answered.
        theme: colours of the screen: ``dark`` or ``light``.
        regions: short names of the regions whose public rules are pointed at.
    """

    map: str = "ladder-frame"
    map_chosen: bool = field(default=False, compare=False)
    rails: Rails = Rails.MIXED
    speech: Speech = field(default_factory=Speech)
    ear: str = "auto"
    second_ear: str = "auto"
    model: Path | None = None
    bias: float = 0.4
    beam: int = 4
    adapted: bool = True
    silence_s: float = 0.7
    preroll_s: float = 0.3
    longest_s: float = 20.0
    into: Path = field(default_factory=default_into)
    attention: str = "logbook"
    overlays: tuple[Path, ...] = ()
    grammar: Path | None = None
    learned: Path | None = None
    inspector: str = ""
    microphone: str | None = None
    speaker: str | None = None
    voice: str = "auto"
    talk: Talk = Talk.FINDINGS
    push_to_talk: str = "off"
    pedal: str = "space"
    ask_s: float = 8.0
    theme: str = "dark"
    regions: tuple[str, ...] = ()


def load_settings(
    flags: Mapping[str, object] | None = None,
    *,
    user_file: Path | None = None,
    environ: Mapping[str, str] = os.environ,
) -> Settings:
    """The settings in force: shipped, then what the machine remembers, the user file, the
    environment and flags on top.

    Single values replace, lists append.

    Args:
        flags: settings by name from the command line; None stands for a flag not given.
        user_file: read instead of the default file, which may be missing; what the machine
            remembers, and what was learned from corrections, is looked for beside it.
        environ: the environment; ``VOICELOG_<SETTING>`` is read.

    Raises:
        UsageFault: the user file named does not exist.
        GrammarFault: a value is wrong; all faults of all layers at once.
    """
    file = user_file or default_user_file()
    if user_file and not file.exists():
        raise UsageFault(
            worded("There is no settings file {file}", file=repr(str(file))),
            worded("Check the path"),
        )
    given = {name: value for name, value in (flags or {}).items() if value is not None}
    memory = file.with_name(REMEMBERED)
    written = file.exists() or os.path.lexists(memory)
    if not given and not written and not any(name.startswith(PREFIX) for name in environ):
        return Settings(learned=file.parent)
    from voicelog.config.layers import layered  # pydantic's models start slowly

    settings = layered(file, environ, given, memory=memory)
    return settings if settings.learned else replace(settings, learned=file.parent)
