"""A folder of recordings made with a sheet: which are there, who speaks, what is missing or misnamed.

Laid out as ``FOLDER/SPEAKER/NOISE/ID.wav``, with ``about.toml`` in the speaker's folder. A speaker is a code:
a folder that is called anything else is given one, so that no name gets into what is handed on.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from voicelog.config.toml_file import bounded, parsed
from voicelog.errors import InputFault
from voicelog.tongue import worded
from voicelog.yardstick.scored import Take
from voicelog.yardstick.sheet import FILE, Sheet, sheet_from_json

ABOUT = "about.toml"
"""What a speaker tells, in the speaker's folder."""
TOLD = ("licence", "agreed_on", "first_language", "accent", "microphone", "distance_cm")
"""What it may hold, beside a table ``noise``."""
UNTOLD = "not told"
"""The speaker or the noise of recordings that lie in no folder of that kind."""
SOUND = frozenset(
    (
        ".wav", ".flac", ".ogg", ".oga", ".opus", ".mp3", ".aif", ".aiff", ".au", ".caf", ".w64", ".m4a",
        ".aac", ".mp4", ".3gp", ".amr", ".wma", ".webm",
    )
)  # fmt: skip
"""Endings of what is meant to be a recording, whether or not it can be read."""

_CODE = re.compile(r"[A-Za-z]{0,3}[0-9]{1,4}")
_NAMED = re.compile(r"(\d+)(?:[-_. ]*\(?(\w{1,8})\)?)?")
_LONGEST = 200
"""Characters of one thing that a speaker tells."""


@dataclass(frozen=True, slots=True)
class Recording:
    """A file and what it should hold."""

    path: Path
    take: Take


@dataclass(frozen=True)
class Recordings:
    """What a folder holds.

    Args:
        folder: it.
        sheet: that was read from.
        found: the recordings, sentence by sentence within each speaker and noise.
        about: what each speaker told, by code.
        misnamed: recordings that name no sentence of the sheet.
        missing: sentences that have no recording, by speaker and noise.
        told: what a person should know of it, a sentence each.
    """

    folder: Path
    sheet: Sheet
    found: Sequence[Recording]
    about: Mapping[str, Mapping[str, Any]]
    misnamed: Sequence[Path]
    missing: Mapping[tuple[str, str], Sequence[str]]
    told: Sequence[str] = field(default=())


def recordings_in(folder: Path) -> Recordings:
    """Look through a folder.

    Raises:
        InputFault: it is none, has no sheet, a damaged one, or no recordings.
    """
    sheet = sheet_in(folder)
    files = _sounds(folder)
    if not files:
        raise InputFault(
            worded("{folder} holds a sheet and no recordings", folder=repr(str(folder))),
            worded(
                "Record its sentences into a folder for each speaker; voicelog help recording tells how"
            ),
        )
    codes = _codes(folder, files)
    found = [one for path in files if (one := _recording(path, folder, sheet, codes))]
    taken = {one.path for one in found}
    about, told = _about(folder, codes)
    renamed = (worded("folder {name} is no code like s01; its speaker is called {code}",
                      name=repr(name), code=code)
               for name, code in codes.items() if name not in (code, ""))  # fmt: skip
    found.sort(key=_order)
    misnamed = [path for path in files if path not in taken]
    return Recordings(
        folder, sheet, found, about, misnamed, _missing(found, sheet), (*renamed, *told)
    )


def has_recordings(folder: Path) -> bool:
    """True where anything in the folder is meant to be a recording."""
    return bool(_sounds(folder))


def sheet_in(folder: Path) -> Sheet:
    """The sheet of a folder.

    Raises:
        InputFault: there is none, or it is damaged.
    """
    if not folder.is_dir():
        raise InputFault(
            worded("There is no folder {folder}", folder=repr(str(folder))),
            worded("Check the path"),
        )
    try:
        document = json.loads(bounded(folder / FILE).decode("utf-8"))
    except FileNotFoundError:
        raise InputFault(
            worded("{folder} has no {file}", folder=repr(str(folder)), file=FILE),
            worded("Make it with: voicelog measure --sheet FOLDER"),
        ) from None
    except OSError as fault:
        raise InputFault(
            worded("{file} cannot be read ({reason})", file=FILE, reason=fault.strerror),
            worded("Check who may read it"),
        ) from fault
    except (ValueError, RecursionError) as fault:
        raise InputFault(
            worded("{file} is damaged: it is no JSON", file=FILE),
            worded("Copy it again from where the sheet was made"),
        ) from fault
    return sheet_from_json(document)


def _order(one: Recording) -> tuple[str, ...]:
    take = one.take
    return take.speaker, take.noise, take.item.id, take.number, str(one.path)


def _sounds(folder: Path) -> list[Path]:
    return [path for path in sorted(folder.rglob("*")) if _is_sound(path.relative_to(folder))]


def _is_sound(inside: Path) -> bool:
    hidden = any(part.startswith(".") for part in inside.parts)
    return inside.suffix.lower() in SOUND and not hidden


def _codes(folder: Path, files: Sequence[Path]) -> dict[str, str]:
    """A code for each speaker's folder; "" stands for no folder."""
    names = list(dict.fromkeys(_where(path, folder)[0] for path in files))
    codes = {name: name for name in names if _CODE.fullmatch(name)}
    for number, name in enumerate((n for n in names if n and n not in codes), 1):
        codes[name] = f"x{number}"
    return codes | ({"": UNTOLD} if "" in names else {})


def _where(path: Path, folder: Path) -> tuple[str, str]:
    """Speaker and noise that the folders tell; empty where they tell none."""
    speaker, *noise = (*path.relative_to(folder).parent.parts, "")
    return speaker, "/".join(filter(None, noise))


def _recording(
    path: Path, folder: Path, sheet: Sheet, codes: Mapping[str, str]
) -> Recording | None:
    """The recording that a file's name stands for; None for no sentence of the sheet."""
    named = _NAMED.fullmatch(path.stem)
    item = sheet.item(named[1]) if named else None
    if named is None or item is None:
        return None
    speaker, noise = _where(path, folder)
    return Recording(path, Take(item, codes[speaker], noise or UNTOLD, named[2] or ""))


def _missing(found: Sequence[Recording], sheet: Sheet) -> dict[tuple[str, str], Sequence[str]]:
    """What each speaker did not say in each noise, where anything was said at all."""
    said: dict[tuple[str, str], set[str]] = {}
    for one in found:
        said.setdefault((one.take.speaker, one.take.noise), set()).add(one.take.item.id)
    return {
        place: [item.id for item in sheet.items if item.id not in ids]
        for place, ids in said.items()
        if len(ids) < len(sheet.items)
    }


def _about(folder: Path, codes: Mapping[str, str]) -> tuple[dict[str, dict[str, Any]], list[str]]:
    """What the speakers tell of themselves, and what is wrong with how they tell it."""
    about, told = {}, list[str]()
    for name, code in codes.items():
        path = folder / name / ABOUT
        try:
            about[code] = dict(_known(parsed(bounded(path).decode("utf-8"))))
        except FileNotFoundError:
            about[code] = {}
            told.append(
                worded(
                    "{code}: there is no {file}, so language, microphone and licence are unknown",
                    code=code,
                    file=ABOUT,
                )
            )
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as fault:
            about[code] = {}
            told.append(
                worded(
                    "{code}: {file} cannot be read ({why})",
                    code=code,
                    file=ABOUT,
                    why=getattr(fault, "strerror", None) or fault,
                )
            )
    return about, told


def _known(document: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """What is asked for and was filled in; everything else stays where it is."""
    for name in TOLD:
        value = document.get(name)
        if value not in (None, "") and not isinstance(value, dict | list):
            yield name, value if isinstance(value, int | float) else str(value)[:_LONGEST]
    noises = document.get("noise")
    if isinstance(noises, dict):
        yield "noise", {str(k)[:_LONGEST]: str(v)[:_LONGEST] for k, v in noises.items() if v}
