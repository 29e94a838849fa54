"""Which files make up a grammar, and under which names a log keeps them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from voicelog.config.data import languages
from voicelog.config.faults import did_you_mean
from voicelog.config.toml_file import bounded, parsed
from voicelog.errors import UsageFault
from voicelog.tongue import worded

RULES = "rules/frame.toml"
PARTS = ("words", "maps", "rules", "overlays")
"""The folders of a grammar folder."""
AS_IN = "as_in"
"""The key by which a map takes a place over from another."""
_NUMBER = re.compile(r"^\d{3}-")


def map_names(root: Path) -> tuple[str, ...]:
    """The maps of a grammar folder."""
    return tuple(sorted(path.stem for path in (root / "maps").glob("*.toml")))


def find_map(roots: Sequence[Path], map_id: str) -> tuple[str, Path]:
    """A map's name in a grammar folder, and its file.

    Args:
        roots: the grammar folders, the first that has it counts.
        map_id: the map's name, or the path of a file elsewhere (ends in ``.toml``).

    Raises:
        UsageFault: there is no such map.
    """
    outside = map_id.endswith(".toml")
    inside = [root / "maps" / f"{map_id}.toml" for root in roots]
    for path in [Path(map_id).expanduser()] if outside else inside:
        if path.is_file():
            return f"maps/{path.stem}.toml", path
    if outside:
        raise UsageFault(
            worded("There is no map file {name}", name=repr(map_id)),
            worded("Check the path given as the map"),
        )
    names = sorted({name for root in roots for name in map_names(root)})
    raise UsageFault(
        worded(
            "There is no map {name}{did_you_mean}",
            name=repr(map_id),
            did_you_mean=did_you_mean(map_id, names),
        ),
        worded(
            "Maps available: {names}; or give the path of a .toml file",
            names=", ".join(names) or worded("none"),
        ),
    )


def maps_behind(path: Path) -> tuple[str, ...]:
    """The other maps that a map file takes places from, in the order in which it names them.

    A file that cannot be read or parsed names none: its faults are told when it is loaded.
    """
    try:
        raw = bounded(path)
        data = parsed(raw.decode("utf-8-sig")) if AS_IN.encode() in raw else {}
    except (OSError, ValueError):
        return ()
    tables = (rows for rows in (data.get("zone"), data.get("family")) if isinstance(rows, list))
    named = (row.get(AS_IN) for rows in tables for row in rows if isinstance(row, dict))
    return tuple(dict.fromkeys(name for name in named if isinstance(name, str)))


def overlay_files(root: Path, overlays: Sequence[Path]) -> Iterator[tuple[str, Path]]:
    """Overlays from the lowest up: those of the folder, then those given.

    Their names are numbered, so that a copy of them is layered in the same order.
    """
    inside = sorted((root / "overlays").glob("*.toml"))
    for number, path in enumerate((*inside, *overlays), 1):
        yield f"overlays/{number:03}-{_NUMBER.sub('', path.stem)}.toml", path


def grammar_files(
    root: Path, map_id: str, overlays: Sequence[Path], behind: Path | None = None
) -> dict[str, Path]:
    """Every file of a grammar by its name in a grammar folder.

    Args:
        root: the grammar folder.
        map_id: the map's name, or the path of a map file.
        overlays: further overlays.
        behind: the folder that gives words, maps or rules that ``root`` has none of.

    Raises:
        UsageFault: there is no such folder or no such map.
    """
    roots = (root,) if behind is None else (root, behind)
    if behind is not None and not any((root / part).is_dir() for part in PARTS):
        raise UsageFault(
            worded("There is no grammar in {root}", root=repr(str(root))),
            worded(
                "Give a shipped language ({languages}), or a folder that holds one of: {parts}",
                languages=", ".join(languages()),
                parts=", ".join(PARTS),
            ),
        )
    words = next((found for root in roots if (found := _words(root))), {})
    place, path = find_map(roots, map_id)
    behind_it = (find_map(roots, name) for name in maps_behind(path))
    rules = next((r / RULES for r in roots if (r / RULES).exists()), root / RULES)
    return {
        **words,
        place: path,
        **dict(behind_it),
        RULES: rules,
        **dict(overlay_files(root, overlays)),
    }


def _words(root: Path) -> dict[str, Path]:
    return {f"words/{path.name}": path for path in sorted((root / "words").glob("*.toml"))}
