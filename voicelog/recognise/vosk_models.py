"""Finding Vosk models on this machine, by path only; nothing here touches the network."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from voicelog.errors import EarFault
from voicelog.tongue import worded

VARIABLE = "VOICELOG_MODEL"
"""Environment variable that names a model's folder."""

_PARTS = (("am/final.mdl", "final.mdl"), ("conf/mfcc.conf", "mfcc.conf"))
_GRAPHS = ("graph/HCLG.fst", "graph/HCLr.fst", "HCLG.fst", "HCLr.fst")
_WHOLE = ("am/final.mdl", "conf/mfcc.conf", "conf/model.conf")
_SPEAKER = (
    "final.dubm",
    "final.ie",
    "final.mat",
    "global_cmvn.stats",
    "online_cmvn.conf",
    "splice.conf",
)
_LIMITABLE = ("graph/HCLr.fst", "graph/Gr.fst")
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


def check_model(folder: Path) -> None:
    """See that the folder holds every file that Vosk will look for, and none of them empty.

    Vosk itself says no more than that it failed, and with an empty configuration it loads and then
    does not come to an end.

    Raises:
        EarFault: naming the first file that is missing or empty.
    """
    for name in _needed(folder):
        file = folder / name
        if not file.is_file() or file.stat().st_size == 0:
            what = "is empty" if file.is_file() else "is missing"
            raise EarFault(
                worded(
                    "The Vosk model in {folder} is not whole: {name} {what}",
                    folder=folder,
                    name=name,
                    what=what,
                ),
                worded(
                    "Unpack it again, fetch it again (voicelog model get), or name another with --model"
                ),
            )


def has_fixed_graph(folder: Path) -> bool:
    """True for models whose one graph holds all their words: they cannot be limited to phrases."""
    return any((folder / name).is_file() for name in ("graph/HCLG.fst", "HCLG.fst"))


def size_mb(folder: Path) -> int:
    """Megabytes that the model takes on the disk."""
    return round(sum(f.stat().st_size for f in folder.rglob("*") if f.is_file()) / 1e6)


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
        raise EarFault(
            worded("{folder} does not hold a Vosk model", folder=named)
            if named.is_dir()
            else worded("{folder} is not a folder", folder=named),
            worded(
                "Name the unpacked folder that holds am/, conf/ and graph/, or run voicelog model get"
            ),
        )
    return named


def _needed(folder: Path) -> Iterator[str]:
    """Names of the files without which this model does not work."""
    if not (folder / "am").is_dir():  # models of the older layout lie flat
        yield from ("final.mdl", "mfcc.conf")
        return
    yield from _WHOLE
    graph = folder / "graph"
    yield from ("graph/HCLG.fst",) if (graph / "HCLG.fst").exists() else _LIMITABLE
    if (folder / "ivector").is_dir():
        yield from (f"ivector/{name}" for name in _SPEAKER)


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
