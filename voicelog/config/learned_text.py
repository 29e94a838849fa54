"""The text of a file of learned mishearings: blocks put in and taken out, the rest left as it is.

A file looks like this; a person may write into it, and keeps what they write::

    # 2026-11-25, by "Ann": heard for "sill" in "left seal, whole"
    [[zone]]
    id = "sill"
    misheard = ["seal"]
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from datetime import date
from typing import Any

from voicelog.config.positions import Loc, line_of
from voicelog.config.writing import toml
from voicelog.domain.inert import inert
from voicelog.domain.lesson import Lesson

HEADING = (
    "# What voicelog learned from corrections: words that were heard, and what they were heard for.\n"
    "# `voicelog words learned` lists them, and takes one out with --remove; so does deleting it here.\n"
    "learned = true\n"
)

_QUOTED = r'"(?:\\.|[^"\\])*"'
_NOTE = re.compile(
    rf"# (?P<on>\d{{4}}-\d\d-\d\d), by (?P<by>{_QUOTED}): "
    rf"heard for (?P<say>{_QUOTED}) in (?P<sentence>{_QUOTED})\s*"
)
_IDENTITY = frozenset(("id", "slot", "value", "also", "zones", "misheard"))
"""Keys of a table that says nothing but what it is about and what it is misheard as."""
_LONGEST = 200
"""Characters of a sentence, and of a name, that are kept."""


@dataclass(frozen=True, slots=True)
class Note:
    """The comment above a learned mishearing; empty where a person changed or removed it.

    Args:
        on: the day, as ``2026-11-25``.
        by: who corrected.
        say: the phrase that was said.
        sentence: the words in which it was misheard.
    """

    on: str = ""
    by: str = ""
    say: str = ""
    sentence: str = ""


def with_lesson(text: str, lesson: Lesson, *, by: str, on: date, sentence: str) -> str:
    """The text with one more block at its end."""
    shown = toml(inert(sentence, _LONGEST))
    note = f"# {on}, by {toml(inert(by, _LONGEST))}: heard for {toml(lesson.say)} in {shown}"
    before = text if not text or text.endswith("\n") else f"{text}\n"
    return f"{before or HEADING}\n{note}\n{_table(lesson)}\nmisheard = [{toml(lesson.heard)}]\n"


def _table(lesson: Lesson) -> str:
    if lesson.slot == "zone":
        return f"[[zone]]\nid = {toml(lesson.value)}"
    if lesson.slot == "family":
        return f"[[family]]\nzones = {toml(lesson.value.split('+'))}"
    also = ", ".join(f"{slot} = {toml(value)}" for slot, value in lesson.also.items())
    told = f"[[meaning]]\nslot = {toml(lesson.slot)}\nvalue = {toml(lesson.value)}"
    return f"{told}\nalso = {{ {also} }}" if also else told


def note_at(text: str, loc: Loc) -> Note:
    """The comment right above the table that holds a value."""
    above = line_of(text, loc[:2]) - 2
    found = _NOTE.fullmatch(text.split("\n")[above]) if above >= 0 else None
    if found is None:
        return Note()
    told = {name: json.loads(found[name]) for name in ("by", "say", "sentence")}
    return Note(found["on"], **told)


def without(text: str, loc: Loc) -> str:
    """The text without one mishearing; its whole block goes where that is all it says.

    Args:
        text: valid TOML.
        loc: the way to it: table, number, ``misheard``, number.

    Raises:
        ValueError: the text is written in a way that cannot be changed safely.
    """
    data = tomllib.loads(text)
    rest = _without(data, loc)
    row = data[str(loc[0])][loc[1]]
    alone = len(row["misheard"]) == 1 and _IDENTITY.issuperset(row)
    lines = text.split("\n")
    begin, end = _block(lines, text, loc) if alone else _statement(lines, text, loc)
    left = [word for at, word in enumerate(row["misheard"]) if at != loc[3]]
    put = [f"misheard = {toml(left)}"] if left else []
    changed = "\n".join((*lines[:begin], *put, *lines[end:]))
    if not _says(changed, rest):
        raise ValueError(f"line {begin + 1}")
    return changed


def without_notes(raw: bytes) -> bytes:
    """A file without the comments that tell who corrected what, and in which sentence.

    They are the shop's own business: a log goes to buyers, and the sentences are about other
    vehicles. What the file says stays the same; one without such comments stays as it is.

    Args:
        raw: valid TOML in UTF-8.
    """
    text = raw.decode("utf-8-sig")
    lines = text.split("\n")
    kept = [line for line in lines if not _NOTE.fullmatch(line)]
    changed = "\n".join(kept)
    if len(kept) == len(lines) or not _says(changed, tomllib.loads(text)):
        return raw
    return changed.encode()


def _says(text: str, data: Mapping[str, Any]) -> bool:
    try:
        return tomllib.loads(text) == data
    except tomllib.TOMLDecodeError:
        return False


def _without(data: Mapping[str, Any], loc: Loc) -> dict[str, Any]:
    """What the text must say afterwards."""
    table, number, _, at = loc
    rest: dict[str, Any] = deepcopy(dict(data))
    row = rest[str(table)][number]
    del row["misheard"][at]
    if not row["misheard"]:
        del row["misheard"]
        if _IDENTITY.issuperset(row) and not row.get("say"):
            del rest[str(table)][number]
    if not rest[str(table)]:
        del rest[str(table)]
    return rest


def _block(lines: list[str], text: str, loc: Loc) -> tuple[int, int]:
    """Lines of a table with its own comment and the empty line above, less what follows it."""
    begin = line_of(text, loc[:2]) - 1
    later = (n for n in range(begin + 1, len(lines)) if lines[n].lstrip().startswith("["))
    end = next(later, len(lines))
    while end > begin + 1 and (not lines[end - 1].strip() or lines[end - 1].startswith("#")):
        end -= 1
    if begin and _NOTE.fullmatch(lines[begin - 1]):
        begin -= 1
    return (begin - 1 if begin and not lines[begin - 1].strip() else begin), end


def _statement(lines: list[str], text: str, loc: Loc) -> tuple[int, int]:
    """Lines of the list ``misheard``."""
    begin = line_of(text, loc[:3]) - 1
    for end in range(begin + 1, len(lines) + 1):
        try:
            tomllib.loads("\n".join(lines[begin:end]))
        except tomllib.TOMLDecodeError:
            continue
        return begin, end
    raise ValueError(f"line {begin + 1}")
