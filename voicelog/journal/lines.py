"""One line of a journal: a fact as compact JSON, and the way back.

A line is a JSON object with the keys of the envelope (``seq``, ``at``, ``offset_s``, ``prev``,
``type``, ``v``), then those of the fact's body. It is written in ASCII, everything else escaped,
so that nothing in it can steer a terminal that shows it.
"""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections.abc import Callable, Mapping
from sys import intern
from typing import Any, NoReturn

import msgspec

from voicelog.domain.fact import FORMAT, Fact
from voicelog.domain.moment import is_moment
from voicelog.errors import InputFault, LogFault
from voicelog.tongue import Worded, in_english, to_word, worded

ENVELOPE = ("seq", "at", "offset_s", "prev", "type", "v")
"""Keys of every line; a body may not hold them."""

LONGEST_LINE = 16 * 1024 * 1024
"""Bytes; no fact comes near, and a damaged file must not fill the memory."""

DAMAGED = to_word(
    "voicelog verify lists all of it; voicelog recover makes a new log of what is whole."
)
"""What to do about a damaged log."""

_MARK = b"\xef\xbb\xbf"
_AT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z", re.ASCII)
_SHA256 = re.compile(r"[0-9a-f]{64}")


class NewerLog(LogFault):
    """A line has a version that only a later program knows."""


class DamagedLine(LogFault):
    """A line, counted from 1, is not as it was written; ``what`` is wrong with it."""

    def __init__(self, line: int, what: Worded) -> None:
        super().__init__(
            worded("Line {line} of the journal is damaged: {what}", line=line, what=what),
            worded(DAMAGED),
        )
        self.what = what


def digest(line: bytes) -> str:
    """SHA-256 of a line without its newline, in hex."""
    return hashlib.sha256(line).hexdigest()


def encode(fact: Fact) -> bytes:
    """The fact's line, without a newline; in English, whatever language messages are told in.

    Raises:
        InputFault: when it is longer than a reader would take.
        TypeError, ValueError: when the body is not JSON, or holds a key of the envelope.
    """
    taken = [key for key in ENVELOPE if key in fact.body]
    if taken:
        raise ValueError(f"the body of a fact may not hold {', '.join(taken)}")
    envelope = {
        "seq": fact.seq,
        "at": fact.at,
        "offset_s": fact.offset_s,
        "prev": fact.prev,
        "type": fact.type,
        "v": FORMAT,
    }
    body = in_english(envelope | dict(fact.body))
    text = json.dumps(body, allow_nan=False, separators=(",", ":"))
    if len(text) > LONGEST_LINE:
        raise InputFault(
            worded("One utterance is too long to be kept"), worded("Say it in several pieces.")
        )
    return text.encode("ascii")


def decode(line: bytes, number: int) -> Fact:
    """The fact of a line.

    Args:
        line: its bytes, without the newline.
        number: where it stands in the file, from 1, for messages.

    Raises:
        NewerLog: when a later program wrote it.
        LogFault: when it is no line of a journal.
    """
    document = _parse(line, number)
    version = document.get("v")
    if type(version) is int and version > max(READERS):
        raise NewerLog(
            worded(
                "Line {number} of the journal has format {version}, and this voicelog reads up "
                "to format {readers}",
                number=number,
                version=version,
                readers=max(READERS),
            ),
            worded("Install the newest voicelog, then try again."),
        )
    if type(version) is not int or version not in READERS:
        raise DamagedLine(number, worded("its key {key} is missing or wrong", key="'v'"))
    return READERS[version](document, number)


def _parse(line: bytes, number: int) -> dict[str, Any]:
    if line.endswith(b"\r"):
        raise DamagedLine(
            number, worded("it ends in a carriage return, so another program rewrote the file")
        )
    if not line:  # a damaged file may have a million of them
        raise DamagedLine(number, _not_json(line))
    try:
        parsed = document(line)
    except (ValueError, RecursionError):
        raise DamagedLine(number, _not_json(line)) from None
    if not (isinstance(parsed, dict) and line.startswith(b"{") and line.endswith(b"}")):
        raise DamagedLine(number, worded("it is not a JSON object and nothing else"))
    return parsed


def document(line: bytes | msgspec.Raw) -> Any:
    """The JSON of a line, or of a value in it.

    What the quick reader does not take, such as half a surrogate pair, is for the standard library's
    to judge.

    Raises:
        ValueError, RecursionError: it is no JSON.
    """
    try:
        return _QUICK.decode(line)
    except (msgspec.DecodeError, ValueError, RecursionError):
        return _DECODER.decode(bytes(line).decode())


def _not_json(line: bytes) -> Worded:
    """That a line is not JSON, and how it came to that where its bytes tell."""
    if not line.strip():
        return worded("it is not JSON: it is empty")
    if not line.strip(b"\x00"):
        return worded("it is not JSON, but zero bytes, as a power cut leaves them")
    if line.startswith(_MARK):
        return worded(
            "it is not JSON: it begins with a byte order mark, so another program rewrote the file"
        )
    if b"\x00" in line:
        return worded("it is not JSON: zero bytes stand in it")
    return worded("it is not JSON")


def _refuse(constant: str) -> NoReturn:
    raise ValueError(f"{constant} is not JSON")


def _finite(text: str) -> float:
    number = float(text)
    if math.isinf(number):
        raise ValueError("too large a number")
    return number


_QUICK = msgspec.json.Decoder()
_DECODER = json.JSONDecoder(parse_constant=_refuse, parse_float=_finite)
"""Both made once: a log has many lines."""


def _read_version_1(document: dict[str, Any], number: int) -> Fact:
    for key, fits in _FITS.items():
        if key not in document or not fits(document[key]):
            raise DamagedLine(number, worded("its key {key} is missing or wrong", key=repr(key)))
    seq, at, offset_s, prev, kind, _ = map(document.pop, ENVELOPE)  # the rest of it is the body
    return Fact(seq, at, float(offset_s), prev, intern(kind), document)


_FITS: Mapping[str, Callable[[Any], bool]] = {
    "seq": lambda value: type(value) is int and value > 0,
    "at": lambda value: is_moment(value, _AT),
    "offset_s": lambda value: type(value) in (int, float) and 0 <= value < 1e12,
    "prev": lambda value: isinstance(value, str) and _SHA256.fullmatch(value) is not None,
    "type": lambda value: isinstance(value, str) and value != "",
}

READERS: dict[int, Callable[[dict[str, Any], int], Fact]] = {
    0: _read_version_1,  # what programs before the first contract wrote has the same keys
    1: _read_version_1,
}
"""Format to the function that reads its lines; an old format keeps its reader for good."""
