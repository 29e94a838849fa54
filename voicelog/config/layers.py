"""The layers of a person's settings, each checked, and the settings that they make together."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from voicelog.config.data import languages
from voicelog.config.document import checked, read_document
from voicelog.config.faults import Fault, did_you_mean, refuse
from voicelog.config.machine import KEPT_SETTINGS, remembered
from voicelog.config.settings import PREFIX, Settings
from voicelog.config.settings_file import UNITS_MM, SettingsFile
from voicelog.config.wording import in_words
from voicelog.domain.reading import Speech
from voicelog.domain.signal import Talk
from voicelog.domain.zone import Rails
from voicelog.tongue import to_word, worded

_HINT = to_word("Correct what is listed below; shared/GRAMMAR.md explains every setting")
_SPEECH = ("driver_side", "nearside", "mil", "carry_s", "accept", "margin")
_PATHS = ("model", "into", "learned")
_Layer = Mapping[str, Any]


def layered(
    file: Path, environ: Mapping[str, str], flags: Mapping[str, object], *, memory: Path
) -> Settings:
    """The shipped settings under what is remembered, a file, the environment and the command line.

    Args:
        file: the settings file, which may be missing.
        environ: the environment.
        flags: settings by name, those that were given.
        memory: what the machine remembers; missing or broken, it adds nothing.

    Raises:
        GrammarFault: a value is wrong; all faults of all layers at once.
    """
    faults: list[Fault] = []
    layers = (
        _from_memory(memory),
        _from_file(file, faults),
        _from_environment(environ, faults),
        _from_flags(flags, faults),
    )
    refuse(faults, worded("your settings"), worded(_HINT))
    return _settled(_merged(layers))


def _from_memory(path: Path) -> _Layer:
    """The layer of what the machine remembers, less what only tells about it."""
    values = remembered(path)
    return {name: values[name] for name in KEPT_SETTINGS if name in values}


def _from_file(path: Path, faults: list[Fault]) -> _Layer:
    """The layer of the user's file; its relative paths start from its own folder."""
    if not path.exists():
        return {}
    sheet = checked(read_document(path, faults), SettingsFile, faults).sheet
    return _anchored(sheet.model_dump(exclude_none=True), path.parent)


def _from_environment(environ: Mapping[str, str], faults: list[Fault]) -> _Layer:
    """The layer of ``VOICELOG_*``; an empty variable is none."""
    known = {f"{PREFIX}{name.upper()}": name for name in SettingsFile.model_fields}
    faults.extend(_misspelt(environ, known))
    given = {known[variable]: text for variable, text in environ.items() if variable in known}
    values: dict[str, object] = {name: text for name, text in given.items() if text}
    if "overlays" in values:
        values["overlays"] = [part for part in given["overlays"].split(os.pathsep) if part]
    if "regions" in values:
        values["regions"] = given["regions"].replace(",", " ").split()
    return _validated(values, lambda name: f"{PREFIX}{name.upper()}", faults)


def _misspelt(environ: Iterable[str], known: Iterable[str]) -> Iterator[Fault]:
    """Variables that are almost a setting; others under the prefix belong to somebody else."""
    names = frozenset(known)
    for variable in environ:
        if variable.startswith(PREFIX) and variable not in names:
            near = did_you_mean(variable, names, cutoff=0.85)
            if near:
                yield Fault("", 0, variable, worded("unknown setting{near}", near=near))


def _from_flags(flags: Mapping[str, object], faults: list[Fault]) -> _Layer:
    """The layer of the command line."""
    given = {name: _plain(value) for name, value in flags.items()}
    return _validated(given, lambda name: f"--{name.replace('_', '-')}", faults)


def _plain(value: object) -> object:
    """A flag's value as a file would have it: paths as text, tuples as lists."""
    if isinstance(value, (tuple, list)):
        return [_plain(part) for part in value]
    return str(value) if isinstance(value, Path) else value


def _validated(
    values: Mapping[str, object], called: Callable[[str], str], faults: list[Fault]
) -> _Layer:
    """A layer given as text or values; faults name each setting as the person wrote it."""
    try:
        sheet = SettingsFile.model_validate(values, strict=False)
    except ValidationError as error:
        for problem in error.errors(include_url=False):
            name = called(str(problem["loc"][0]))
            faults.append(Fault("", 0, name, in_words(SettingsFile, problem)))
        return {}
    return _anchored(sheet.model_dump(exclude_none=True), Path())


def _anchored(layer: _Layer, folder: Path) -> _Layer:
    """The layer with its paths started from a folder."""

    def path(text: str) -> Path:
        return folder / Path(text).expanduser()

    anchored = dict(layer)
    anchored.update({name: path(layer[name]) for name in _PATHS if name in layer})
    if "grammar" in layer:
        shipped = languages() if layer["grammar"].isalpha() else {}
        anchored["grammar"] = shipped.get(layer["grammar"]) or path(layer["grammar"])
    if "overlays" in layer:
        anchored["overlays"] = [path(text) for text in layer["overlays"]]
    if layer.get("map", "").endswith(".toml"):
        anchored["map"] = str(path(layer["map"]))
    return anchored


def _merged(layers: Iterable[_Layer]) -> _Layer:
    """The layers as one: single values of a later one replace, lists append."""
    merged: dict[str, Any] = {}
    for layer in layers:
        for name, value in layer.items():
            merged[name] = [*merged.get(name, []), *value] if isinstance(value, list) else value
    return merged


def _settled(values: _Layer) -> Settings:
    """Settings with the values given and the shipped ones for the rest."""
    rest = dict(values)
    speech = {name: rest.pop(name) for name in _SPEECH if name in rest}
    if "unit" in rest:
        speech["unit_mm"] = UNITS_MM[rest.pop("unit")]
    for name, kind in (("rails", Rails), ("talk", Talk)):
        if name in rest:
            rest[name] = kind(rest[name])
    rest["map_chosen"] = "map" in rest
    rest["overlays"] = tuple(rest.get("overlays", ()))
    rest["regions"] = tuple(dict.fromkeys(rest.get("regions", ())))
    return Settings(**rest, speech=Speech(**speech))
