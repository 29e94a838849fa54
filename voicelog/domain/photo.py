"""Pictures that lie beside a log, and what each of them is evidence for."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.moment import is_moment
from voicelog.errors import LogFault
from voicelog.tongue import worded

PHOTO = "photo"
"""The type of a line that tells of a picture."""

LOCATIONS = ("none", "stripped", "kept")

_FILE = re.compile(r"photos/p[1-9][0-9]*\.[a-z0-9]{1,5}")
_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?(Z|[+-]\d\d:\d\d)", re.ASCII)
_SHA256 = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Photo:
    """One picture of a log.

    Args:
        seq: the line of the journal that tells of it; the newest where it was matched again.
        file: path inside the log's folder, ``/`` between folders, for example ``photos/p42.jpg``.
        sha256: of that file, lower-case hexadecimal.
        original: name of the file it was copied from, as it was: show it inert.
        entries: ids of the entries it shows, the likeliest first; empty where nobody knows.
        taken: when it was taken, RFC 3339, the camera's clock put right; empty where the file does
            not tell.
        confidence: how sure the matching is, 0 to 1; 1 where a person said so.
        because: why it was matched so, as short sentences.
        location: what became of the place of taking in the file: ``none`` (nothing in it could hold
            one), ``stripped`` (whatever holds or may hold it was taken out) or ``kept``.
        by: who matched it.
        original_sha256: of the file it was copied from; that of ``file`` where both are the same.
    """

    seq: int
    file: str
    sha256: str
    original: str
    entries: tuple[str, ...] = ()
    taken: str = ""
    confidence: float = 1.0
    because: tuple[str, ...] = ()
    location: str = "none"
    by: str = ""
    original_sha256: str = ""

    @property
    def name(self) -> str:
        """Its short name, for example ``p42``; it stays when the picture is matched again."""
        return self.file.rpartition("/")[2].partition(".")[0]


@dataclass(frozen=True, slots=True)
class Lack:
    """A picture that is missing.

    Args:
        zone: the place's id; ``unplaced`` where nobody said.
        side: None where the zone comes once, or nobody said.
        text: what is missing, as a sentence that names the place.
        what: ``unsafe`` (a finding) or ``cavity`` (the inside of a place).
        entry: the unsafe finding; None for a cavity.
        claimed: somebody said that they took one.
    """

    zone: str
    side: str | None
    text: str
    what: str = "cavity"
    entry: str | None = None
    claimed: bool = False


def photos_of(facts: Iterable[Fact]) -> tuple[Photo, ...]:
    """The pictures of a log in the order in which they came; a later line about the same file's
    ``sha256`` takes the place of the earlier one.

    Raises:
        LogFault: a line that tells of a picture does not say which, or what it shows.
    """
    found: dict[str, Photo] = {}
    for fact in facts:
        if fact.type == PHOTO:
            photo = photo_of(fact)
            found[photo.sha256] = photo
    return tuple(found.values())


def photo_of(fact: Fact) -> Photo:
    """The picture that a ``photo`` line tells of.

    Raises:
        LogFault: a key is missing, or holds what it cannot.
    """
    body: Mapping[str, Any] = {**_LEFT_OUT, **fact.body}
    wrong = [key for key, fits in _FITS.items() if not fits(body.get(key))]
    if wrong:
        raise LogFault(
            worded(
                "Line {seq} of the journal is a photo whose {key} is missing or wrong",
                seq=fact.seq,
                key=repr(wrong[0]),
            ),
            worded("Run voicelog verify on the log's folder."),
        )
    known: dict[str, Any] = {key: body[key] for key in _FITS}
    lists = {key: tuple(known[key]) for key in ("entries", "because")}
    return Photo(fact.seq, **{**known, **lists, "confidence": float(known["confidence"])})


def body_of(photo: Photo) -> dict[str, Any]:
    """What a ``photo`` line says of a picture; its number is the journal's to give."""
    body = {key: getattr(photo, key) for key in _FITS}
    return body | {"entries": list(photo.entries), "because": list(photo.because)}


def times_shown(photos: Iterable[Photo]) -> Counter[str]:
    """How many pictures show each entry."""
    return Counter(entry for photo in photos for entry in dict.fromkeys(photo.entries))


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _are_texts(value: object) -> bool:
    return isinstance(value, list | tuple) and all(map(_is_text, value))


def _is_sha256(value: object) -> bool:
    return isinstance(value, str) and _SHA256.fullmatch(value) is not None


_LEFT_OUT: Mapping[str, Any] = {
    "entries": (), "taken": "", "confidence": 1.0, "because": (), "location": "none", "by": "",
    "original_sha256": "",
}  # fmt: skip

_FITS: Mapping[str, Callable[[Any], bool]] = {
    "file": lambda value: _is_text(value) and _FILE.fullmatch(value) is not None,
    "sha256": _is_sha256,
    "original": _is_text,
    "entries": _are_texts,
    "taken": lambda value: value == "" or is_moment(value, _TIME),
    "confidence": lambda value: type(value) in (int, float) and 0 <= value <= 1,
    "because": _are_texts,
    "location": lambda value: value in LOCATIONS,
    "by": _is_text,
    "original_sha256": lambda value: value == "" or _is_sha256(value),
}
