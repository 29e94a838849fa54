"""Signatures as a log holds them, and what was changed after they were given."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from voicelog.domain.entry import entry_id
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.photo import PHOTO
from voicelog.domain.revision import Signature
from voicelog.domain.vehicle import VEHICLE
from voicelog.errors import LogFault
from voicelog.tongue import worded

SIGNED = "signed"
"""The type of a line that holds a signature."""

_CHANGING = frozenset((PHOTO, VEHICLE, "clip-erased"))
"""Types of lines that change what a log shows of the vehicle, and no entry."""

_SHA256 = re.compile(r"[0-9a-f]{64}")


def signatures(facts: Iterable[Fact]) -> tuple[Signature, ...]:
    """Every signature of a log, the oldest first.

    Raises:
        LogFault: a line that signs does not say who signed what.
    """
    return tuple(signature_of(fact) for fact in facts if fact.type == SIGNED)


def signature_of(fact: Fact) -> Signature:
    """The signature that a ``signed`` line holds; that its hash is right is for verify to see.

    Raises:
        LogFault: it does not say who signed what.
    """
    body: Mapping[str, Any] = {"open": [], "why": "", **fact.body}
    wrong = [key for key, fits in _FITS.items() if not fits(body.get(key))]
    if wrong:
        raise LogFault(
            worded(
                "Line {seq} of the journal is a signature whose {key} is missing or wrong",
                seq=fact.seq,
                key=repr(wrong[0]),
            ),
            worded("Run voicelog verify on the log's folder."),
        )
    lines, sha256, unresolved = body["lines"], body["sha256"], tuple(body["open"])
    return Signature(fact.seq, fact.at, body["by"], lines, sha256, unresolved, body["why"])


def holds_changes(fact: Fact) -> bool:
    """True for a line that changes what the log shows: entries, pictures, the vehicle's header,
    sound that was erased; signing and listening change nothing.
    """
    return fact.type in _CHANGING or bool(fact.body.get("changes"))


def changed_after(facts: Iterable[Fact], signature: Signature) -> tuple[int, ...]:
    """The numbers of the lines behind a signature that hold changes, in order."""
    return tuple(fact.seq for fact in facts if fact.seq > signature.seq and holds_changes(fact))


def entries_after(facts: Sequence[Fact]) -> frozenset[str]:
    """The entries touched after the newest signature; none where nobody signed.

    Raises:
        LogFault: a line holds a change that cannot be read.
    """
    signed = max((fact.seq for fact in facts if fact.type == SIGNED), default=None)
    if signed is None:
        return frozenset()
    later = (fact for fact in facts if fact.seq > signed)
    return frozenset(entry_id(change) for fact in later for change in changes_of(fact))


def _is_text(value: object) -> bool:
    return isinstance(value, str)


_FITS: Mapping[str, Callable[[Any], bool]] = {
    "by": lambda value: _is_text(value) and value.strip() != "",
    "lines": lambda value: type(value) is int and value > 0,
    "sha256": lambda value: _is_text(value) and _SHA256.fullmatch(value) is not None,
    "open": lambda value: isinstance(value, list) and all(map(_is_text, value)),
    "why": _is_text,
}
