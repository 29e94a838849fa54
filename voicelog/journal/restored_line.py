"""One line of a damaged log as the new log has it.

What does not hold any more stays in its line under another name: changes to entries that are lost,
sound and pictures that are not there, signatures over bytes that are no more.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from voicelog.domain.change_json import changes_from_json
from voicelog.domain.entry import Add, entry_id
from voicelog.domain.fact import Fact, changes_of
from voicelog.domain.heard import heard_from_json
from voicelog.domain.photo import PHOTO
from voicelog.domain.recovery import (
    CHANGES_LOST,
    CLIP_LOST,
    DENIED,
    PHOTO_LOST,
    WAS_SIGNED,
)
from voicelog.domain.signing import SIGNED, signature_of
from voicelog.errors import LogFault, VoicelogError
from voicelog.journal.gathering import Seen
from voicelog.journal.lines import decode
from voicelog.journal.pieces import Asked, Found, Rest, Restored
from voicelog.journal.seal import Sealing
from voicelog.journal.vouching import Vouched
from voicelog.tongue import worded

_HEARD = ("utterance", "revised")
"""Types of lines that hold what an ear heard."""


def _erased(taken: Vouched) -> frozenset[str]:
    """The utterances whose sound is not there because somebody wanted it so."""
    lines = (line for line in taken.lines.values() if line.type == "clip-erased")
    facts = (decode(line.data, line.number) for line in lines)
    return frozenset(str(fact.body.get("utterance")) for fact in facts)


class Restorer:
    """Makes new facts of old lines, one after the other.

    Args:
        taken: the lines that belong to the log.
        asked: for every line, clip and picture.
        told: gets what became of them.
    """

    def __init__(self, taken: Vouched, asked: Asked, told: Restored) -> None:
        self._erased, self._told = _erased(taken), told
        self._is_whole, self._misfit = asked.is_whole, asked.misfit
        self._on_trust, self._rivals = taken.on_trust, taken.rivals
        self._ids: set[str] = set()
        self._sealing: Sealing | None = Sealing()

    def passed(self, before: Found | None) -> None:
        """Takes in the line in front of the next one; where one is lost, no signature can be tried."""
        if before is None:
            self._sealing = None
        elif self._sealing is not None:
            self._sealing.take(before.data)

    def kept(self, line: Found) -> Fact | None:
        """The fact of an old line; None where a log cannot hold it."""
        fact = decode(line.data, line.number)
        problem = self._problem(fact)
        if problem:
            self._told.left.append(Rest(line.number, line.data, problem))
            return None
        self._told.kept += 1
        body = self._with_rivals(fact.seq, self._with_sound(self._with_changes(fact)))
        body |= self._denied(fact)
        return replace(fact, type=self._type(fact), body=body)

    def _problem(self, fact: Fact) -> str:
        """Why a log cannot hold a line; empty where it can."""
        if fact.type == "opened":
            return worded("it opens a log, and stands within one")
        try:
            changes_of(fact)
            changes_from_json(fact.body.get("proposed", ()))
            if fact.type in _HEARD and "heard" in fact.body:
                heard_from_json(fact.body["heard"])
        except (VoicelogError, KeyError, TypeError, ValueError, AttributeError):
            return worded("what it says cannot be read")
        if misfit := self._misfit(fact):
            return worded("it does not fit the contract ({misfit})", misfit=misfit)
        seen = Seen()
        if fact.type != SIGNED:
            seen.gather(fact, b"", Sealing().seal)
        if seen.problems:
            return worded("it does not say what a line of its type has to say")
        if fact.seq in self._on_trust and any(_of_another(fact.seq, name) for name in seen.ids):
            return worded("it gives ids that are those of another line")
        given = {str(fact.body.get("utterance"))} & seen.ids.keys() | set(seen.clips)
        if given & self._ids:
            return worded("it gives {name} a second time", name=repr(min(given & self._ids)))
        self._ids |= given
        return ""

    def _with_changes(self, fact: Fact) -> dict[str, Any]:
        """Its body, with those changes apart that are about an entry which is lost."""
        body, fit, lost = dict(fact.body), list[Any](), list[Any]()
        for raw, change in zip(body.get("changes", ()), changes_of(fact), strict=True):
            name = entry_id(change)
            if isinstance(change, Add) == (name in self._ids):
                lost.append(raw)
            else:
                fit.append(raw)
                self._ids.add(name)
        if lost:
            self._told.cut.append(fact.seq)
            body |= {"changes": fit, CHANGES_LOST: [*body.get(CHANGES_LOST, ()), *lost]}
        return body

    def _with_rivals(self, seq: int, body: dict[str, Any]) -> dict[str, Any]:
        """Its body, with what another program changed in a line of the same number."""
        facts = (decode(line.data, line.number) for line in self._rivals.get(seq, ()))
        lost = [change for fact in facts for change in _listed(fact.body.get("changes"))]
        if not lost:
            return body
        self._told.twice.append(seq)
        return body | {CHANGES_LOST: [*body.get(CHANGES_LOST, ()), *lost]}

    def _with_sound(self, body: dict[str, Any]) -> dict[str, Any]:
        """Its body, with the clip under another name where that is lost."""
        clip = body.get("clip")
        if not isinstance(clip, Mapping) or body.get("utterance") in self._erased:
            return body
        if self._is_whole(str(clip.get("file")), clip.get("sha256")):
            return body
        self._told.silent.append(str(clip.get("file")))
        return {CLIP_LOST if key == "clip" else key: value for key, value in body.items()}

    def _denied(self, fact: Fact) -> dict[str, str]:
        """What is wrong with a signature, where all the lines in front of it are there."""
        if fact.type != SIGNED or self._sealing is None:
            return {}
        try:
            wrong = self._sealing.seal.denies(signature_of(fact))
        except LogFault as fault:
            wrong = fault.message
        if wrong:
            self._told.denied.append(fact.seq)
        return {DENIED: wrong} if wrong else {}

    def _type(self, fact: Fact) -> str:
        if fact.type == SIGNED:
            self._told.signed.append(fact.seq)
            return WAS_SIGNED
        photo = fact.type == PHOTO
        if photo and not self._is_whole(str(fact.body["file"]), fact.body["sha256"]):
            self._told.pictures.append(str(fact.body["file"]))
            return PHOTO_LOST
        return fact.type


def _listed(changes: object) -> list[Any]:
    return changes if isinstance(changes, list) else []


def _of_another(seq: int, name: str) -> bool:
    """Whether an id is none that the line of that number gives."""
    return name != f"u{seq}" and not name.startswith(f"e{seq}.")
