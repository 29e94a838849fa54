"""The words, map and rules of a damaged log, as far as they are there."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

from voicelog.config.grammar import files_in_force
from voicelog.config.learned_text import without_notes
from voicelog.config.settings import Settings
from voicelog.config.toml_file import LONGEST
from voicelog.domain.inert import inert
from voicelog.errors import LogFault, UsageFault
from voicelog.journal.grammar import map_of
from voicelog.journal.naming import GRAMMAR, lies_inside
from voicelog.journal.own_files import is_own, is_own_folder
from voicelog.journal.storage import reading
from voicelog.tongue import to_word, worded

_Files = Mapping[str, bytes]
_Shipped = Mapping[str, tuple[str, bytes]]


@dataclass(frozen=True, slots=True)
class OldGrammar:
    """A log's own copy, put in order.

    Args:
        files: name to contents.
        map: id of the map in force.
        problems: what is not as it was when the log was opened, one sentence each.
    """

    files: Mapping[str, bytes]
    map: str
    problems: tuple[str, ...] = ()

    @property
    def hashes(self) -> dict[str, str]:
        """Name to SHA-256, in name order."""
        return {n: hashlib.sha256(self.files[n]).hexdigest() for n in sorted(self.files)}


def old_grammar(
    folder: Path, said: Mapping[str, Any], map_id: str = "", *, sure: bool = True
) -> OldGrammar:
    """The copy of a log; a file of it that was changed or lost comes from the shipped words, where
    those are still the same.

    Args:
        folder: the log's.
        said: what the line that opened it says; empty where it cannot be read.
        map_id: the map that was in force, where that line cannot tell.
        sure: that line is as it was written; else its names of files may not be, and those that lie
            there are believed.

    Raises:
        InputFault: the files cannot be read.
        LogFault: nobody knows which map was in force.
    """
    with reading(folder):
        there = dict(_there(folder / GRAMMAR))
    hashes = said.get("grammar")
    if not isinstance(hashes, Mapping) or not any(n.startswith("maps/") for n in hashes):
        map_in_force = map_id or _only_map(there, str(said.get("map", "")))
        return OldGrammar(there, map_in_force, (worded("Nobody knows which grammar was in force"),))
    map_in_force = map_id or map_of(said)
    shipped, problems = _shipped(map_in_force), list[str]()
    put = _as_named if sure else _as_they_lie
    files = dict(put(hashes, there, shipped, problems))
    return OldGrammar(files, _map_there(files, map_in_force), tuple(problems))


def _as_named(
    hashes: Mapping[str, object], there: _Files, shipped: _Shipped, problems: list[str]
) -> Iterator[tuple[str, bytes]]:
    """The files under the names that the opening line gives them."""
    for name, sha256 in hashes.items():
        data = next((d for d in (there.get(name), *_of(shipped, sha256)) if _is(d, sha256)), None)
        if data is None:
            text = _CHANGED if name in there else _MISSING
            problems.append(worded(text, file=_file(name)))
            data = there.get(name)
        if data is not None:
            yield name, data


def _as_they_lie(
    hashes: Mapping[str, object], there: _Files, shipped: _Shipped, problems: list[str]
) -> Iterator[tuple[str, bytes]]:
    """The files that are there, and those that the opening line tells of beside them."""
    yield from there.items()
    known = {hashlib.sha256(data).hexdigest() for data in there.values()}
    for name, sha256 in hashes.items():
        if str(sha256) in known:
            continue
        if str(sha256) in shipped:
            yield shipped[str(sha256)]
        else:
            problems.append(worded(_EITHER, file=_file(name)))


_CHANGED = to_word("{file} was changed: grades may not be what they were")
_MISSING = to_word("{file} is missing: grades may not be what they were")
_EITHER = to_word("{file} was changed, or is missing: grades may not be what they were")


def _file(name: str) -> str:
    return f"{GRAMMAR}/{inert(name, 80)}"


def _of(shipped: _Shipped, sha256: object) -> Iterator[bytes]:
    if str(sha256) in shipped:
        yield shipped[str(sha256)][1]


def _is(data: bytes | None, sha256: object) -> bool:
    return data is not None and hashlib.sha256(data).hexdigest() == sha256


def _there(grammar: Path) -> Iterator[tuple[str, bytes]]:
    """The copy's files; no link is followed."""
    for path in sorted(grammar.rglob("*.toml")) if is_own_folder(grammar) else ():
        name = path.relative_to(grammar).as_posix()
        folders = [grammar / part for part in PurePosixPath(name).parents if part.name]
        own = lies_inside(name) and is_own(path) and all(map(is_own_folder, folders))
        if own and path.lstat().st_size <= LONGEST:  # a larger one is as good as lost
            yield name, path.read_bytes()


def _shipped(map_id: str) -> _Shipped:
    """The shipped files with their names, by their hash, as a log keeps them."""
    try:
        paths = files_in_force(Settings(map=map_id))
        kept = {name: without_notes(path.read_bytes()) for name, path in paths.items()}
    except (UsageFault, OSError):  # a shop's own map
        return {}
    return {hashlib.sha256(data).hexdigest(): (name, data) for name, data in kept.items()}


def _map_there(files: Mapping[str, bytes], map_id: str) -> str:
    return map_id if f"maps/{map_id}.toml" in files else _only_map(files, map_id)


def _only_map(files: Mapping[str, bytes], map_id: str) -> str:
    """The map, where the log has no more than one.

    Raises:
        LogFault: it has none, or several.
    """
    maps = [PurePosixPath(name).stem for name in files if name.startswith("maps/")]
    if map_id in maps or len(maps) == 1:
        return map_id if map_id in maps else maps[0]
    raise LogFault(
        worded("Nobody knows with which map the log was made: the line that says so is lost"),
        worded(
            "Name it with --map: {maps}.",
            maps=", ".join(sorted(maps)) or worded("the log has no copy of any"),
        ),
    )
