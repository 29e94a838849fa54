"""Which files make up a grammar, and under which names a log keeps them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from voicelog.config.faults import did_you_mean
from voicelog.errors import UsageFault

RULES = "rules/frame.toml"
_NUMBER = re.compile(r"^\d{3}-")


def map_names(root: Path) -> tuple[str, ...]:
    """The maps of a grammar folder."""
    return tuple(sorted(path.stem for path in (root / "maps").glob("*.toml")))


def find_map(root: Path, map_id: str) -> tuple[str, Path]:
    """A map's name in a grammar folder, and its file.

    Args:
        root: the grammar folder.
        map_id: the map's name, or the path of a file elsewhere (ends in ``.toml``).

    Raises:
        UsageFault: there is no such map.
    """
    outside = map_id.endswith(".toml")
    path = Path(map_id).expanduser() if outside else root / "maps" / f"{map_id}.toml"
    if path.is_file():
        return f"maps/{path.stem}.toml", path
    if outside:
        raise UsageFault(f"There is no map file {map_id!r}", "Check the path given as the map")
    names = map_names(root)
    raise UsageFault(
        f"There is no map {map_id!r}{did_you_mean(map_id, names)}",
        f"Maps available: {', '.join(names) or 'none'}; or give the path of a .toml file",
    )


def overlay_files(root: Path, overlays: Sequence[Path]) -> Iterator[tuple[str, Path]]:
    """Overlays from the lowest up: those of the folder, then those given.

    Their names are numbered, so that a copy of them is layered in the same order.
    """
    inside = sorted((root / "overlays").glob("*.toml"))
    for number, path in enumerate((*inside, *overlays), 1):
        yield f"overlays/{number:03}-{_NUMBER.sub('', path.stem)}.toml", path


def grammar_files(root: Path, map_id: str, overlays: Sequence[Path]) -> dict[str, Path]:
    """Every file of a grammar by its name in a grammar folder.

    Raises:
        UsageFault: there is no such map.
    """
    words = {f"words/{path.name}": path for path in sorted((root / "words").glob("*.toml"))}
    place, path = find_map(root, map_id)
    return {**words, place: path, RULES: root / RULES, **dict(overlay_files(root, overlays))}
