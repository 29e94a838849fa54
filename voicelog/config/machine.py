"""What this machine remembers between runs: the microphone chosen last, the bias that suited a voice.

One small TOML file beside the settings file, a layer under it: what a person writes down
themselves always holds over what was remembered.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from voicelog.errors import GrammarFault
from voicelog.tongue import Worded, worded

if TYPE_CHECKING:
    from voicelog.config.document import Sheet
    from voicelog.config.faults import Fault

FILE = "remembered.toml"
"""Its name, in the folder of the settings file."""

KEPT_SETTINGS = ("microphone", "bias")
"""The settings that are remembered; they are checked as in a settings file."""

_HEADING = (
    "# What voicelog remembers on this machine. What settings.toml says holds over it;\n"
    "# delete a line to have it forgotten.\n"
)


def machine_file() -> Path:
    """Where it lies: in the user's configuration folder, which belongs to this machine."""
    from platformdirs import user_config_path

    return user_config_path("voicelog", appauthor=False) / FILE


def remembered(file: Path | None = None) -> Mapping[str, Any]:
    """What is remembered: ``microphone`` (text), ``bias`` (nats a character), ``bias_on`` (date).

    A file that cannot be used counts as none, is left as it is, and is told in one line of the
    ``voicelog`` logger, which shows on standard error unless a front end takes it.

    Args:
        file: read instead of the one of this machine.
    """
    path = file or machine_file()
    if not os.path.lexists(path):
        return {}
    values, faults = _checked_file(path)
    if faults:
        import logging  # only faults need it

        logging.getLogger(__name__).warning("%s", _broken(path, faults))
        return {}
    return values


def remember(*, file: Path | None = None, **values: object) -> Path:
    """Write values down, beside what is remembered already; None forgets one.

    The file is replaced in one step and only its owner can read it.

    Args:
        file: written instead of the one of this machine.
        values: ``microphone``, ``bias`` or ``bias_on``.

    Returns:
        The file.

    Raises:
        GrammarFault: a value is wrong, or the file there cannot be read and is left alone.
        StorageFault: the folder or the disk refused.
    """
    path = file or machine_file()
    there, faults = _checked_file(path) if os.path.lexists(path) else ({}, [])
    if faults:
        raise GrammarFault(*_broken_parts(path, faults))
    kept = {name: value for name, value in {**there, **values}.items() if value is not None}
    _refuse_wrong(kept)
    from voicelog.config.writing import replace_file  # reading needs none of it

    replace_file(path, _written(kept), otherwise=worded("until then it is not remembered"))
    return path


def forget(*names: str, file: Path | None = None) -> Path:
    """Remember these no longer.

    Raises:
        GrammarFault: the file cannot be read and is left alone.
        StorageFault: the folder or the disk refused.
    """
    return remember(file=file, **dict.fromkeys(names))


def _sheet() -> type[Sheet]:
    """The file's model: some of the settings, by the very same checks, and the date."""
    from pydantic import Field, create_model  # pydantic's models start slowly

    from voicelog.config.document import Sheet
    from voicelog.config.settings_file import SettingsFile

    fields = {name: SettingsFile.model_fields[name] for name in KEPT_SETTINGS}
    shapes: dict[str, Any] = {name: (field.annotation, field) for name, field in fields.items()}
    shapes["bias_on"] = (date | None, Field(default=None))
    return create_model("MachineFile", __base__=Sheet, **shapes)


def _checked_file(path: Path) -> tuple[Mapping[str, Any], list[Fault]]:
    from voicelog.config.document import checked, read_document

    faults: list[Fault] = []
    sheet = checked(read_document(path, faults), _sheet(), faults).sheet
    return sheet.model_dump(exclude_none=True), faults


def _refuse_wrong(values: Mapping[str, Any]) -> None:
    from voicelog.config.document import Document, checked
    from voicelog.config.faults import Fault, refuse

    faults: list[Fault] = []
    checked(Document("", b"", data=values), _sheet(), faults)
    told = [Fault("", 0, fault.key, fault.message) for fault in faults]
    refuse(told, worded("what is to be remembered"), worded("Correct the value"))


def _broken_parts(path: Path, faults: list[Fault]) -> tuple[Worded, Worded]:
    """Message and next step for a file that cannot be used; the first fault tells enough."""
    fault = faults[0]
    where = fault.message
    if fault.key:
        where = worded(
            "line {line}: {key}: {message}", line=fault.line, key=fault.key, message=where
        )
    message = worded(
        "What this machine remembers is not used, {path} is damaged ({where})",
        path=repr(str(path)),
        where=where,
    )
    return message, worded("Correct that line or delete the file; nothing else is lost")


def _broken(path: Path, faults: list[Fault]) -> str:
    message, hint = _broken_parts(path, faults)
    told = worded("{message}. {hint}", message=message, hint=hint)
    return "".join(c if c.isprintable() else "?" for c in told)


def _written(values: Mapping[str, object]) -> str:
    from voicelog.config.writing import toml

    return _HEADING + "".join(f"{name} = {toml(value)}\n" for name, value in values.items())
