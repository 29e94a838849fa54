"""A journal that somebody, or another program, wrote anew: with other words, another end or beginning."""

from __future__ import annotations

import hashlib
import json
import re
from random import Random

from damage_lines import Lines

_PREV = re.compile(rb'"prev":"[0-9a-f]{64}"')


def two_tails(lines: Lines, foreign: Lines, chance: Random) -> bytes:
    """Two programs went on with the log at once, where no lock held them apart."""
    at = chance.randint(2, len(lines) - 3)
    many = chance.randint(1, min(8, len(lines) - at - 1, len(foreign) - 2))
    others = _chained([*lines[:at], *foreign[1 : 1 + many]], at)[at:]
    rest = list(lines[at:])
    for line in others:
        rest.insert(chance.randint(0, len(rest)), line)
    return b"".join((*lines[:at], *rest))


def rewritten(lines: Lines, _: Lines, chance: Random) -> bytes:
    """What editors, transfers in text mode and tools for JSON make of a file."""
    text = b"".join(lines)
    return chance.choice((
        lambda: text.replace(b"\n", b"\r\n"),
        lambda: b"\xef\xbb\xbf" + text,
        lambda: text.decode().encode("utf-16"),
        lambda: text.replace(b"\n", b"\n\n"),
        lambda: text.replace(b"\n", b" "),
        lambda: text.replace(b"\n", b" \n"),
        lambda: b"".join(json.dumps(json.loads(line)).encode() + b"\n" for line in lines),
        lambda: b"".join(_sorted(line) for line in lines),
        lambda: json.dumps([json.loads(line) for line in lines], indent=1).encode(),
        lambda: text + b"\n",
        lambda: text + b"edited by hand\n",
    ))()  # fmt: skip


def _sorted(line: bytes) -> bytes:
    document = json.loads(line)
    return json.dumps(document, sort_keys=True, separators=(",", ":")).encode() + b"\n"


def told_otherwise(lines: Lines, _: Lines, chance: Random) -> bytes:
    """A line in front of the last says something else, and is a line all the same."""
    at = _said_at(lines, chance)
    return b"".join((*lines[:at], _milder(lines[at]), *lines[at + 1 :]))


def forged(lines: Lines, _: Lines, chance: Random) -> bytes:
    """The same, and somebody wrote every later hash anew."""
    at = _said_at(lines, chance)
    made = [*lines[:at], _milder(lines[at]), *lines[at + 1 :]]
    return b"".join(_chained(made, at))


def _said_at(lines: Lines, chance: Random) -> int:
    """The place of a line in which something is said, the last one excepted."""
    said = [n for n, line in enumerate(lines[:-1]) if _milder(line) != line]
    return chance.choice(said)


def _milder(line: bytes) -> bytes:
    """The line with words of less weight in it."""
    changed = line.replace(b'"condition":"crack"', b'"condition":"dents"')
    changed = changed.replace(b'"condition":"hole"', b'"condition":"surface-rust"')
    return changed.replace(b'"grade":"unsafe"', b'"grade":"cosmetic"')


def _chained(lines: Lines, begin: int) -> list[bytes]:
    """The lines from one on with the number and the hash that follow from those in front of them."""
    made = list(lines[:begin])
    for line in lines[begin:]:
        before = hashlib.sha256(made[-1][:-1]).hexdigest() if made else "0" * 64
        line = re.sub(rb'^\{"seq":\d+', b'{"seq":%d' % (len(made) + 1), line)
        made.append(_PREV.sub(b'"prev":"%s"' % before.encode(), line, count=1))
    return made


def header_altered(lines: Lines, _: Lines, chance: Random) -> bytes:
    """The opening line says something else: how the rails are made, which map, which files."""
    first = json.loads(lines[0])
    hashes = first["grammar"]
    key, value = chance.choice((
        ("rails", "open"), ("map", "unibody"), ("log_id", "0" * 8), ("grammar", {}), ("settings", {}),
        ("grammar", dict.fromkeys(hashes, "0" * 64)),
    ))  # fmt: skip
    if first.get(key) == value:
        key, value = "subject", "another"
    line = json.dumps({**first, key: value}, separators=(",", ":")).encode() + b"\n"
    return b"".join((line, *lines[1:]))


def header_gone(lines: Lines, _: Lines, chance: Random) -> bytes:
    """The opening line, or the beginning of it, is not there."""
    return b"".join(lines)[chance.randint(1, len(lines[0])) :]


def another_head(lines: Lines, foreign: Lines, chance: Random) -> bytes:
    """The file begins as another log does."""
    many = chance.randint(1, min(len(lines) - 2, len(foreign)))
    return b"".join((*foreign[:many], *lines[many:]))
