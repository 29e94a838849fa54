"""What can happen to a journal: its lines torn, turned over, doubled, moved, mixed, zeroed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random

Lines = Sequence[bytes]
Damage = Callable[[Lines, Lines, Random], bytes]
"""Of a log's lines and those of another log, line feeds included, makes the damaged file."""

_SECTOR = 512


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
