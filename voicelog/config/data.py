"""Where the files that travel with the program lie, in a wheel and in a checkout."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from voicelog.errors import InputFault
from voicelog.tongue import worded

_PACKAGE = Path(__file__).resolve().parents[1]


def grammar_dir() -> Path:
    """The shipped grammar: folders ``words``, ``maps`` and ``rules``.

    Raises:
        InputFault: when the installation has lost it.
    """
    return shipped("grammar", _PACKAGE)


def languages() -> Mapping[str, Path]:
    """The shipped grammars of other languages, by name: folders of the grammar with words."""
    folders = (path for path in sorted(grammar_dir().iterdir()) if (path / "words").is_dir())
    return {path.name: path for path in folders}


def samples_dir() -> Path:
    """The bundled recordings of the demonstration.

    Raises:
        InputFault: when the installation has lost them.
    """
    return shipped("audio_samples", _PACKAGE)


def shipped(name: str, package: Path) -> Path:
    """A data folder of an installed package, or of the checkout that holds the package.

    Editable installs carry no ``_data``, so the checkout is the second choice.

    Raises:
        InputFault: when neither place has it.
    """
    for folder in (package / "_data" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise InputFault(
        worded("The folder {name} that belongs to voicelog is missing", name=repr(name)),
        worded("Install voicelog again"),
    )
