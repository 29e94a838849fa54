"""Where what was learned from corrections lies: one file for the shop, one for each person."""

from __future__ import annotations

import hashlib
import os
import re
from pathlib import Path
from typing import Literal
from unicodedata import normalize

from voicelog.config.settings import Settings

For = Literal["shop", "person"]
"""Whom something is learned for."""

_SHOP = "shop"
_ODD = re.compile(r"[^a-z0-9]+")
_LONGEST = 40
"""Letters of a person's name in a file's name; a hash tells the rest apart."""


def inspector(settings: Settings) -> str:
    """The person at the machine: as the settings name them, else its user; empty when unknown."""
    if settings.inspector:
        return settings.inspector
    import getpass  # only asked for without a name

    try:
        return getpass.getuser()
    except (ImportError, KeyError, OSError):
        return ""


def file_name(for_: For, person: str = "") -> str:
    """The name of the file, safe on every system and another one for every person.

    Args:
        for_: whom it is for.
        person: their name, for a person's file.
    """
    plain = normalize("NFKD", person.lower()).encode("ascii", "ignore").decode()
    safe = _ODD.sub("-", plain).strip("-")[:_LONGEST]
    if safe != person or safe in ("", _SHOP):
        safe = f"{safe}-{hashlib.sha256(person.encode('utf-8', 'replace')).hexdigest()[:6]}"
    return f"learned-{_SHOP if for_ == 'shop' else safe.strip('-')}.toml"


def learned_files(settings: Settings) -> tuple[Path, ...]:
    """Those that are there, the shop's first and the person's on top; none without a folder."""
    folder = settings.learned
    if folder is None or not folder.is_dir():
        return ()
    names = [file_name("shop")]
    if any(path.name != names[0] for path in folder.glob("learned-*.toml")):
        names.append(file_name("person", inspector(settings)))
    return tuple(folder / name for name in names if os.path.lexists(folder / name))
