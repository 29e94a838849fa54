"""Where what was learned from corrections lies: one file for the shop, one for each person."""

from __future__ import annotations

import hashlib
import os
import re
from contextlib import suppress
from fnmatch import fnmatch
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
    """The person at the machine: as the settings name them, else its user."""
    if settings.inspector:
        return settings.inspector
    import getpass  # only asked for without a name

    try:
        return getpass.getuser()
    except (ImportError, KeyError, OSError):  # an account without a name
        return "unnamed"


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
    """Those that are there, the shop's first and the person's on top; none where the folder is not
    there, or is a share out of reach: inspecting goes on without.
    """
    if settings.learned is None:
        return ()
    shop, there = file_name("shop"), _there(settings.learned)
    wanted = [shop]
    if there - {shop}:  # the account is asked for its name only where it matters
        wanted.append(file_name("person", inspector(settings)))
    return tuple(settings.learned / name for name in wanted if name in there)


def _there(folder: Path) -> set[str]:
    """Names of the files in the folder; a share that is away is as good as none."""
    with suppress(OSError):
        return {name for name in os.listdir(folder) if fnmatch(name, "learned-*.toml")}  # noqa: PTH208
    return set()
