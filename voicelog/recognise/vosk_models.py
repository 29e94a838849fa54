"""Finding Vosk models on this machine, by path only; nothing here touches the network."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from voicelog.errors import EarFault

VARIABLE = "VOICELOG_MODEL"
"""Environment variable that names a model's folder."""

_PARTS = (("am/final.mdl", "final.mdl"), ("conf/mfcc.conf", "mfcc.conf"))
_GRAPHS = ("graph/HCLG.fst", "graph/HCLr.fst", "HCLG.fst", "HCLr.fst")
_ENGLISH = re.compile(r"vosk-model-(?P<small>small-)?en(?P<kind>(?:-[a-z]+)*)-?(?P<version>[\d.]*)")


def cache_folder() -> Path:
    """Where Vosk keeps the models it fetches."""
    return Path.home() / ".cache" / "vosk"


def cache_folders() -> tuple[Path, ...]:
    """Every folder in which Vosk itself looks for models, the user's first."""
    return (cache_folder(), Path.home() / "AppData" / "Local" / "vosk", Path("/usr/share/vosk"))


def is_model(folder: Path) -> bool:
    """True when the folder has the parts without which Vosk loads no model."""
    parts = all(any((folder / name).is_file() for name in names) for names in _PARTS)
    return parts and any((folder / name).is_file() for name in _GRAPHS)


def english_models(folders: Sequence[Path] | None = None) -> tuple[Path, ...]:
    """The English models in the caches, the one to use first.

    Small ones come before large ones, which take gigabytes of memory: whoever wants a large one
    names it. Then US English before others, and the newer before the older.
    """
    found = [path for folder in folders or cache_folders() for path in _models_in(folder)]
    return tuple(sorted(found, key=_preference))


def find_model(
    model: Path | None = None,
    *,
    environ: Mapping[str, str] = os.environ,
    folders: Sequence[Path] | None = None,
) -> Path | None:
    """The model to use: the one named, else the one in the environment, else one in the cache.

    Returns:
        Its folder; None when none was named and the caches hold no English one.

    Raises:
        EarFault: when the one named is not there or not a model.
    """
    named = model or (Path(environ[VARIABLE]) if environ.get(VARIABLE) else None)
    if named is None:
        return next(iter(english_models(folders)), None)
    if not is_model(named):
        what = "does not hold a Vosk model" if named.is_dir() else "is not a folder"
        raise EarFault(
            f"{named} {what}",
            "Name the unpacked folder that holds am/, conf/ and graph/, or run voicelog model get",
        )
    return named


def _models_in(folder: Path) -> Iterator[Path]:
    try:
        inside = sorted(folder.iterdir())
    except OSError:  # no such cache, or none of ours to read: nothing is installed there
        return
    yield from (path for path in inside if _ENGLISH.match(path.name) and is_model(path))


def _preference(path: Path) -> tuple[bool, bool, list[int]]:
    name = _ENGLISH.match(path.name)
    if name is None:
        return (True, True, [])
    version = [-int(part) for part in name["version"].split(".") if part]
    return (not name["small"], name["kind"] != "-us", version)
