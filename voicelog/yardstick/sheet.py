"""The sheet that people read from when they record themselves: sentences, and what must come of each.

What must come of a sentence is written down when it is put together, from the parts that it is made of;
it is never read off the sentence by the program that is to be measured.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from voicelog.errors import InputFault
from voicelog.tongue import worded
from voicelog.yardstick.strict import SCORED, Slots

FILE = "sheet.json"
"""Its name in the folder of the recordings."""

VERSION = 1
"""Of the file."""

TALK = "talk"
"""The kind of a sentence that must make no entry."""

_AGAIN = "Make a new one with: voicelog measure --sheet FOLDER"


@dataclass(frozen=True, slots=True)
class Item:
    """What is said in one recording.

    Args:
        id: names its recordings; two digits or more.
        kind: what it tries, for example ``plain``, ``size`` or ``talk``.
        say: its utterances, a pause of two seconds between them.
        want: the entries that must stand at the end, in order.
    """

    id: str
    kind: str
    say: tuple[str, ...]
    want: tuple[Slots, ...] = ()

    @property
    def text(self) -> str:
        """All its words."""
        return " ".join(self.say)

    @property
    def is_talk(self) -> bool:
        """Nothing is told of the vehicle."""
        return self.kind == TALK


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet.

    Args:
        map: id of the map whose places it names.
        seed: what it was drawn with.
        program: that made it, with its version.
        before: said, as if typed, before every recording of talk, so that there is an entry that
            talk could spoil.
        items: in the order in which they are read.
    """

    map: str
    seed: int
    program: str
    before: Item
    items: tuple[Item, ...]

    def item(self, name: str) -> Item | None:
        """The sentence that a name stands for, with or without its leading zeros; None for no such."""
        wanted = name.lstrip("0")
        return next((one for one in self.items if one.id.lstrip("0") == wanted), None)


def sheet_to_json(sheet: Sheet) -> dict[str, Any]:
    """The sheet as a JSON object."""
    return {"voicelog_sheet": VERSION, **asdict(sheet)}


def sheet_from_json(document: object) -> Sheet:
    """The way back.

    Raises:
        InputFault: it is no sheet; says what is wrong with it.
    """
    top = _object(document, "it")
    if top.get("voicelog_sheet") != VERSION:
        raise InputFault(
            worded("{file} is no sheet of version {version}", file=FILE, version=VERSION),
            worded(_AGAIN),
        )
    items = tuple(_item(one, f"sentence {n}") for n, one in enumerate(_list(top, "items", "it"), 1))
    names = [item.id for item in items]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None or not items:
        raise InputFault(
            worded("{file} has two sentences {name}", file=FILE, name=repr(twice))
            if twice
            else worded("{file} has no sentences", file=FILE),
            worded(_AGAIN),
        )
    before = _item(top.get("before"), "what is said before talk")
    return Sheet(
        _text(top, "map", "it"), _whole(top, "seed"), _text(top, "program", "it"), before, items
    )


def _item(document: object, what: str) -> Item:
    told = _object(document, what)
    say = _list(told, "say", what)
    if not say or not all(isinstance(text, str) and text.strip() for text in say):
        raise InputFault(
            worded("{file} is damaged: {what} says nothing", file=FILE, what=what), worded(_AGAIN)
        )
    want = tuple(_entry(one, what) for one in _list(told, "want", what))
    return Item(_text(told, "id", what), _text(told, "kind", what), tuple(say), want)


def _entry(document: object, what: str) -> Slots:
    """An entry that must be made: its kind, and slots that are scored."""
    entry = _object(document, f"an entry of {what}")
    odd = [name for name in entry if name not in SCORED]
    if (
        odd
        or "kind" not in entry
        or not all(isinstance(v, str | int | float) for v in entry.values())
    ):
        told = f"no slot is called {odd[0]!r}" if odd else "kind or values are missing"
        raise InputFault(
            worded(
                "{file} is damaged: {told} in an entry of {what}", file=FILE, told=told, what=what
            ),
            worded(_AGAIN),
        )
    return entry


def _object(value: object, what: str) -> Mapping[str, Any]:
    if not isinstance(value, dict):
        raise InputFault(
            worded("{file} is damaged: {what} is no object", file=FILE, what=what), worded(_AGAIN)
        )
    return value


def _list(told: Mapping[str, Any], name: str, what: str) -> Sequence[Any]:
    value = told.get(name)
    if not isinstance(value, list):
        raise InputFault(
            worded(
                "{file} is damaged: {what} lacks the list {name}",
                file=FILE,
                what=what,
                name=repr(name),
            ),
            worded(_AGAIN),
        )
    return value


def _text(told: Mapping[str, Any], name: str, what: str) -> str:
    value = told.get(name)
    if not isinstance(value, str) or not value:
        raise InputFault(
            worded(
                "{file} is damaged: {what} lacks the text {name}",
                file=FILE,
                what=what,
                name=repr(name),
            ),
            worded(_AGAIN),
        )
    return value


def _whole(told: Mapping[str, Any], name: str) -> int:
    value = told.get(name)
    if not isinstance(value, int) or isinstance(value, bool):
        raise InputFault(
            worded("{file} is damaged: it lacks the number {name}", file=FILE, name=repr(name)),
            worded(_AGAIN),
        )
    return value
