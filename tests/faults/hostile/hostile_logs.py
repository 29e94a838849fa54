"""Logs from somebody who means harm: a real one, taken apart, altered, and chained together anew.

Whoever hands over a log can make every hash in it fit. So the chain protects from damage, and
nothing here is caught by it.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from hostile_strings import STRINGS, WHOLE, long_text

Line = dict[str, Any]
Lines = list[Line]
_FLOWS = Path(__file__).parents[2] / "flows"
_ODD: Sequence[Any] = (
    None, True, -1, 0, 1e308, 10**30, "", "x", "\ud800", [], {}, [[]], [None], {"": {}}, "../..",
)  # fmt: skip
"""Values that no key expects, or not all of them."""


def honest(parent: Path) -> Path:
    """A finished inspection with sound, made by the program itself."""
    sys.path.insert(0, str(_FLOWS))
    from spoken_log import spoken_log

    said = (
        "left sill, surface rust, metal is firm", "left front rail, crack",
        "make that the right front rail", "hole on the left kick-up, scale on the right",
        "odometer eighty two thousand four hundred miles", "rear cross member 3.1 millimetres",
    )  # fmt: skip
    return spoken_log(parent, said)


def lines_of(log: Path) -> Lines:
    """The lines of a journal."""
    return [json.loads(line) for line in (log / "journal.jsonl").read_bytes().splitlines()]


def write(log: Path, lines: Sequence[Line]) -> None:
    """Puts lines into a journal, numbered and chained so that every hash fits."""
    raw, before = [], "0" * 64
    for number, line in enumerate(lines, 1):
        body = {**line, "seq": number, "prev": before}
        front = {key: body.pop(key) for key in ("seq", "at", "offset_s", "prev", "type", "v")}
        data = json.dumps(front | body, separators=(",", ":")).encode()
        before = hashlib.sha256(data).hexdigest()
        raw.append(data + b"\n")
    (log / "journal.jsonl").write_bytes(b"".join(raw))


def copied(log: Path, target: Path) -> Path:
    """The log once more, to be altered."""
    shutil.rmtree(target, ignore_errors=True)
    shutil.copytree(log, target, symlinks=True)
    return target


def altered(log: Path, target: Path, change: Callable[[Lines], None]) -> Path:
    """The log once more, with its lines changed in place."""
    copied(log, target)
    lines = lines_of(target)
    change(lines)
    write(target, lines)
    return target


def filled(text: str) -> Callable[[Lines], None]:
    """Puts a text wherever the contract takes any text."""

    def change(lines: Lines) -> None:
        for line in lines:
            _fill(line, text)
        lines[0]["vehicle"] = dict.fromkeys(
            ("described", "vin", "plate", "paint_code", "inspector"), text
        )
        lines[0]["vehicle"]["refusals"] = [{"what": "scraping", "why": text}]
        lines.append(after(lines[-1], "revised", did="set", by=text, why=text, changes=[]))
        lines.append(after(lines[-1], "vehicle", set={"plate": text, "described": text}, by=text))

    return change


_FREE = frozenset((
    "subject", "text", "model", "ear", "program", "why", "by", "reason", "landmark", "doubts",
    "absent", "tags", "engine", "plate", "vin", "odometer",
))  # fmt: skip


def _fill(value: Any, text: str) -> None:
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in _FREE and isinstance(inner, str):
                value[key] = text
            elif key == "slots":
                inner["landmark"] = text
            else:
                _fill(inner, text)
        if "slots" in value:
            value |= {"doubts": [text], "reason": text, "absent": [text], "tags": [text]}
    elif isinstance(value, list):
        for inner in value:
            _fill(inner, text)


def after(line: Line, type_: str, **body: Any) -> Line:
    """A line more, written at the same moment."""
    return {"at": line["at"], "offset_s": line["offset_s"], "type": type_, "v": 1, **body}


def ways(value: Any, here: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """The way to every value within a value; of a list, to its first element."""
    inside = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value[:1])
        if isinstance(value, list)
        else ()
    )
    for key, inner in inside:
        yield (*here, key)
        yield from ways(inner, (*here, key))


def put(lines: Lines, way: tuple[str | int, ...], value: Any) -> None:
    """Put a value at a way; ``KeyError`` in ``value`` takes the key away."""
    holder: Any = lines
    for step in way[:-1]:
        holder = holder[step]
    if value is KeyError:
        del holder[way[-1]]
    else:
        holder[way[-1]] = value


def misshapen(lines: Lines) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    """Every value of every kind of line, and what to put in its place: one at a time."""
    kinds = {line["type"]: number for number, line in reversed(list(enumerate(lines)))}
    for number in kinds.values():
        for way in ways(lines[number]):
            if way[0] in ("seq", "prev"):
                continue
            for odd in (*_ODD, *((KeyError,) if isinstance(way[-1], str) else ())):
                if way[0] not in ("at", "offset_s", "type", "v") or odd is not KeyError:
                    yield (number, *way), odd


TEXTS: Mapping[str, Callable[[Lines], None]] = {
    **{f"text: {name}": filled(text) for name, text in STRINGS.items()},
    "text: all of them": filled(WHOLE),
    "text: ten million characters in one": lambda lines: lines[0].update(subject=long_text()),
}
"""Name to a change of the lines that leaves them as the contract wants them."""

_PATHS = (
    "../../../../etc/passwd", "/etc/passwd", "clips/../../x", "clips\\..\\x", "clips/", "", ".",
    "clips/a\0b", "clips/" + "x" * 5000, "clips//u2.flac", "journal.jsonl", "clips/../journal.jsonl",
    "C:\\x", "//server/share/x", "clips/CON", "clips/u2.flac:stream", "\u202eclips", "~/x", "file:///etc/passwd",
)  # fmt: skip


def _with_file(name: str) -> Callable[[Lines], None]:
    """A clip and a picture of that name."""

    def change(lines: Lines) -> None:
        lines[1]["clip"]["file"] = name
        lines.append(after(
            lines[-1], "photo", file=name, sha256="0" * 64, original=name, entries=["e2.1"],
            confidence=1.0, location="none",
        ))  # fmt: skip

    return change


def _with_grammar(name: str) -> Callable[[Lines], None]:
    return lambda lines: lines[0]["grammar"].update({name: "0" * 64})


NAMES: Mapping[str, Callable[[Lines], None]] = {
    **{f"file: {name[:30]!r}": _with_file(name) for name in _PATHS},
    **{f"grammar: {name[:30]!r}": _with_grammar(name) for name in _PATHS},
    "map: up and out": lambda lines: lines[0].update(map="../../../../tmp/x"),
    "map: a file": lambda lines: lines[0].update(map="/etc/x.toml"),
    "recovered from: up and out": lambda lines: lines[0].update(recovered={"folder": "../../..", "log_id": "x"}),
}  # fmt: skip


def _raw(make: Callable[[bytes], bytes]) -> Callable[[Path], None]:
    """Alters the second line's bytes, the chain left as it was."""

    def change(log: Path) -> None:
        path = log / "journal.jsonl"
        first, second, *rest = path.read_bytes().split(b"\n")
        path.write_bytes(b"\n".join((first, make(second), *rest)))

    return change


def _whole(make: Callable[[bytes], bytes]) -> Callable[[Path], None]:
    def change(log: Path) -> None:
        path = log / "journal.jsonl"
        path.write_bytes(make(path.read_bytes()))

    return change


_DEEP, _MANY = 200_000, 300_000

BYTES: Mapping[str, Callable[[Path], None]] = {
    "arrays in arrays": _raw(lambda _: b'{"seq":2,"x":' + b"[" * _DEEP + b"]" * _DEEP + b"}"),
    "objects in objects": _raw(lambda _: b'{"a":' * _DEEP + b"1" + b"}" * _DEEP),
    "an endless exponent": _raw(lambda line: line[:-1] + b',"x":1e999999}'),
    "ten million digits": _raw(lambda line: line[:-1] + b',"x":' + b"9" * 10_000_000 + b"}"),
    "a decimal of ten million digits": _raw(lambda line: line[:-1] + b',"x":0.' + b"9" * 10_000_000 + b"}"),
    "no number": _raw(lambda line: line[:-1] + b',"x":NaN,"y":-Infinity}'),
    "a key twice": _raw(lambda line: line[:-1] + b',"type":"opened"}'),
    "many keys": _raw(lambda line: line[:-1] + b"," + b",".join(b'"k%d":1' % n for n in range(_MANY)) + b"}"),
    "a line of 17 MB": _raw(lambda line: line[:-1] + b',"x":"' + b"x" * 17_000_000 + b'"}'),
    "lines of 15 MB": _whole(lambda raw: raw + (b'{"seq":9,"x":"' + b"x" * 15_000_000 + b'"}\n') * 6),
    "a byte order mark": _whole(lambda raw: b"\xef\xbb\xbf" + raw),
    "UTF-16": _whole(lambda raw: raw.decode().encode("utf-16")),
    "zeros": _whole(lambda raw: raw + bytes(1_000_000)),
    "carriage returns": _whole(lambda raw: raw.replace(b"\n", b"\r\n")),
    "a million empty lines": _whole(lambda raw: raw + b"\n" * 1_000_000),
    "control characters": _raw(lambda line: line.replace(b"left", b"le\x1b[2Jft")),
    "bytes that are no text": _raw(lambda line: line.replace(b"left", b"\xff\xfe\x9b")),
    "an archive": _whole(lambda _: b"PK\x03\x04" + bytes(1000)),
    "nothing": _whole(lambda _: b""),
}  # fmt: skip
"""Name to what is done to the journal's bytes."""


def with_grammar(log: Path, name: str, raw: bytes) -> None:
    """Puts a file into the log's copy of the grammar, its hash in the log."""
    path = log / "grammar" / name
    path.parent.mkdir(exist_ok=True, parents=True)
    path.write_bytes(raw)
    lines = lines_of(log)
    lines[0]["grammar"][name] = hashlib.sha256(raw).hexdigest()
    write(log, lines)


def with_titles(log: Path, text: str) -> None:
    """Every title and sentence of the log's own map and rules ends in a text."""
    plain = json.dumps(text.encode("utf-8", "ignore").decode(), ensure_ascii=False)[1:-1]
    plain = plain.replace("\x7f", "\\u007f")
    for name in ("maps/ladder-frame.toml", "rules/frame.toml"):
        raw = (log / "grammar" / name).read_text("utf-8")
        lines = (_ending(line, plain) for line in raw.split("\n"))
        with_grammar(log, name, "\n".join(lines).encode())


_TITLES = ("title = ", "text = ", "source = ", "caution = ", "carries = ", "then = ", "step = ")


def _ending(line: str, text: str) -> str:
    if line.startswith(_TITLES) and line.endswith('"') and line.count('"') == 2:
        return f'{line[:-1]} {text}"'
    return line
