"""Names on disk: safe in every file system, never used twice."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime
from itertools import chain, count
from pathlib import Path

JOURNAL = "journal.jsonl"
CLIPS = "clips"
PHOTOS = "photos"
GRAMMAR = "grammar"
LOCK = "lock"

_SUBJECT_BYTES = (
    60  # leaves room for the time and a number in the 143 bytes of the tightest systems
)
_UTTERANCE = re.compile(r"u([1-9][0-9]{0,17})")
_GIVEN = {
    CLIPS: re.compile(r"u[0-9]+(\.orphan-[0-9]+)?\.flac(\.part)?"),
    PHOTOS: re.compile(r"p[0-9]+(\.orphan-[0-9]+)?\.[0-9A-Za-z]+(\.part)?"),
    "": re.compile(r"journal\.(jsonl|torn-[0-9]+)(\.part)?|\.voicelog-[0-9a-f]{12}\.(flac|tmp)"),
}
_NEVER_IN_NAMES = frozenset('\\:*?"<>|')


def folder_names(moment: datetime, subject: str) -> Iterator[str]:
    """Names for a log's folder, the one to try first at first.

    Args:
        moment: when it is opened.
        subject: what is inspected, in any words; may be empty.
    """
    time = moment.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    name = "-".join(part for part in (time, safe(subject)) if part)
    return chain([name], (f"{name}-{n}" for n in count(2)))


def opened_by_name(name: str) -> float | None:
    """When a log was opened, by the name that its folder was given, in seconds since 1970; None where
    somebody gave it another.
    """
    with suppress(ValueError):
        return datetime.strptime(name[:16], "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC).timestamp()
    return None


def safe(text: str) -> str:
    """The letters and digits of a text in lower case, everything else a hyphen; may be empty.

    Dots, slashes, colons, control and direction characters do not survive, and the time before it
    keeps the name from being a device of some system.
    """
    plain = unicodedata.normalize("NFKC", text).lower()
    kept = "".join(c if unicodedata.category(c)[0] in "LMN" else "-" for c in plain)
    short = re.sub("-+", "-", kept).strip("-").encode()[:_SUBJECT_BYTES]
    return short.decode(errors="ignore").strip("-")


def free(folder: Path, stem: str, ending: str = "") -> Path:
    """The first of ``<stem>1<ending>``, ``<stem>2<ending>``, … that is not there."""
    candidates = (folder / f"{stem}{n}{ending}" for n in count(1))
    return next(path for path in candidates if not path.exists())


def utterance_number(utterance: object) -> int | None:
    """7 for ``u7``; None for what is no id of an utterance."""
    match = _UTTERANCE.fullmatch(utterance) if isinstance(utterance, str) else None
    return int(match[1]) if match else None


def is_given(name: str, within: str = "") -> bool:
    """True for a name that this program gives to a file of a log.

    Args:
        name: the file's, without its folder.
        within: the folder in the log in which it lies; empty for the log's own folder.
    """
    return _GIVEN[within].fullmatch(name) is not None


def lies_inside(name: object) -> bool:
    """True for a relative path, ``/`` between folders, that every system takes to lie below."""
    return isinstance(name, str) and all(
        part not in ("", ".", "..") and part.isprintable() and not _NEVER_IN_NAMES & set(part)
        for part in name.split("/")
    )
