"""What can happen to a journal: its lines torn, turned over, doubled, moved, mixed, zeroed, rewritten."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Sequence
from random import Random

Lines = Sequence[bytes]
Damage = Callable[[Lines, Lines, Random], bytes]
"""Of a log's lines and those of another log, line feeds included, makes the damaged file."""

_SECTOR = 512
_PREV = re.compile(rb'"prev":"[0-9a-f]{64}"')


def torn(lines: Lines, _: Lines, chance: Random) -> bytes:
    """Cut within a line, not at its end, as a crash leaves it."""
    cut = chance.randrange(1, len(lines))
    return b"".join(lines[:cut]) + lines[cut][: chance.randrange(1, len(lines[cut]) - 1)]


def cut_clean(lines: Lines, _: Lines, chance: Random) -> bytes:
    """Cut after a whole line."""
    return b"".join(lines[: chance.randrange(1, len(lines))])


def one_bit(lines: Lines, _: Lines, chance: Random) -> bytes:
    """One bit anywhere in front of the last line."""
    return _flipped(b"".join(lines), chance, 1, len(b"".join(lines[:-1])))


def some_bits(lines: Lines, _: Lines, chance: Random) -> bytes:
    """From two to sixty-four of them."""
    return _flipped(b"".join(lines), chance, chance.randint(2, 64), len(b"".join(lines[:-1])))


def bit_in_last(lines: Lines, _: Lines, chance: Random) -> bytes:
    """One bit in the last line."""
    return b"".join(lines[:-1]) + _flipped(lines[-1], chance, 1, len(lines[-1]))


def _flipped(text: bytes, chance: Random, times: int, before: int) -> bytes:
    turned = bytearray(text)
    for place in chance.sample(range(before), times):
        turned[place] ^= 1 << chance.randrange(8)
    return bytes(turned)


def doubled(lines: Lines, _: Lines, chance: Random) -> bytes:
    """Up to four stretches of lines a second time, anywhere."""
    made = list(lines)
    for _round in range(chance.randint(1, 4)):
        begin = chance.randrange(len(lines))
        piece = lines[begin : begin + chance.randint(1, 5)]
        at = chance.randint(0, len(made))
        made[at:at] = piece
    return b"".join(made)


def moved(lines: Lines, _: Lines, chance: Random) -> bytes:
    """A stretch of lines in another order."""
    begin = chance.randrange(len(lines) - 1)
    end = chance.randint(begin + 2, len(lines))
    piece = list(lines[begin:end])
    while piece == list(lines[begin:end]):
        chance.shuffle(piece)
    return b"".join((*lines[:begin], *piece, *lines[end:]))


def gone(lines: Lines, _: Lines, chance: Random) -> bytes:
    """Up to six lines taken out, none of them the last."""
    out = set(chance.sample(range(len(lines) - 1), chance.randint(1, min(6, len(lines) - 2))))
    return b"".join(line for number, line in enumerate(lines) if number not in out)


def mixed_in(lines: Lines, foreign: Lines, chance: Random) -> bytes:
    """Lines of another log between its own."""
    made = list(lines)
    for line in chance.sample(foreign, chance.randint(1, len(foreign))):
        made.insert(chance.randrange(len(made)), line)
    return b"".join(made)


def instead(lines: Lines, foreign: Lines, chance: Random) -> bytes:
    """Lines of another log in the place of its own, from the same line on."""
    begin = chance.randrange(min(len(lines), len(foreign)) - 1)
    many = chance.randint(1, min(len(lines) - 1, len(foreign)) - begin)
    return b"".join((*lines[:begin], *foreign[begin : begin + many], *lines[begin + many :]))


def two_tails(lines: Lines, foreign: Lines, chance: Random) -> bytes:
    """Two programs went on with the log at once, where no lock held them apart."""
    at = chance.randint(2, len(lines) - 3)
    many = chance.randint(1, min(8, len(lines) - at - 1, len(foreign) - 2))
    others = _chained([*lines[:at], *foreign[1 : 1 + many]], at)[at:]
    rest = list(lines[at:])
    for line in others:
        rest.insert(chance.randint(0, len(rest)), line)
    return b"".join((*lines[:at], *rest))


def zeroed(lines: Lines, _: Lines, chance: Random) -> bytes:
    """Sectors full of zeros in the midst of it."""
    text = b"".join(lines)
    begin = chance.randrange(len(text) // _SECTOR) * _SECTOR
    size = chance.choice((1, 1, 2, 8)) * _SECTOR
    end = min(begin + size, len(text) - len(lines[-1]))
    begin = min(begin, end - 1)
    return text[:begin] + bytes(end - begin) + text[end:]


def zero_tail(lines: Lines, _: Lines, chance: Random) -> bytes:
    """Zeros from somewhere on: the length was on disk, and the bytes were not."""
    text = b"".join(lines)
    begin = chance.randrange(len(lines[0]) + 1, len(text) - 1)
    return text[:begin] + bytes(len(text) - begin)


def sector_lost(lines: Lines, _: Lines, chance: Random) -> bytes:
    """Sectors that are not there, and what stood behind them moved up."""
    text = b"".join(lines)
    begin = chance.randrange(max(1, (len(text) - len(lines[-1])) // _SECTOR)) * _SECTOR
    return text[:begin] + text[begin + chance.choice((1, 2, 8)) * _SECTOR :]


def sector_stale(lines: Lines, foreign: Lines, chance: Random) -> bytes:
    """A sector that holds what another place of the file held, or another file."""
    text = b"".join(lines)
    source = chance.choice((text, b"".join(foreign)))
    begin = chance.randrange((len(text) - len(lines[-1])) // _SECTOR) * _SECTOR
    other = chance.randrange(len(source) // _SECTOR) * _SECTOR
    piece = source[other : other + _SECTOR]
    if piece == text[begin : begin + _SECTOR]:
        piece = bytes(_SECTOR)
    return text[:begin] + piece + text[begin + _SECTOR :]


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
        ("grammar", {name: "0" * 64 for name in hashes}),
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
