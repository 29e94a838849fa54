"""What tests have a log say, and sign."""

from __future__ import annotations

from typing import Any

from voicelog.domain.sound import Clip
from voicelog.journal.journal import Journal
from voicelog.journal.seal import seal_of


def entry(name: str) -> dict[str, Any]:
    """The least that an entry is."""
    at = "2026-03-14T09:05:30.250Z"
    return {"id": name, "utterance": "u2", "at": at, "kind": "remark", "slots": {}}


def say(journal: Journal, clip: Clip | None = None, **body: Any) -> None:
    """An utterance that adds an entry, with its sound if there is any."""
    utterance = f"u{journal.next_seq}"
    sound = {"clip": journal.keep_clip(utterance, clip)} if clip else {}
    added = {"do": "add", "entry": entry(f"e{journal.next_seq}.1")}
    journal.append("utterance", {"utterance": utterance, "changes": [added], **sound, **body})


def sign(journal: Journal, **wrong: Any) -> None:
    """A signature of the lines so far, but for what is wrong with it."""
    seal = seal_of(journal.folder)
    body = {"by": "the shop", "lines": seal.lines, "sha256": seal.sha256, "open": []}
    journal.append("signed", body | wrong)
