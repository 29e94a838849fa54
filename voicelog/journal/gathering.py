"""What a check gathers from the lines it passes: ids, clips, signatures, and what is wrong."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, timezone
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.domain.inert import inert
from voicelog.domain.local_time import day_in, stamp, zone_of
from voicelog.domain.photo import PHOTO, photo_of
from voicelog.domain.recovery import DENIED, RECOVERED, WAS_SIGNED, lines_lost, spans
from voicelog.domain.revision import Signature
from voicelog.domain.signing import SIGNED, holds_changes, signature_of
from voicelog.errors import LogFault
from voicelog.journal.lines import digest
from voicelog.journal.naming import CLIPS, lies_inside, utterance_number
from voicelog.journal.seal import Seal
from voicelog.tongue import joined, to_word, worded, worded_many

_SAID = ("utterance", "revised")
"""Types of lines that change entries and may keep a clip; a correction need not be spoken."""

_LONGEST_NAME = 60
_SHOWN_LINES = 12


@dataclass(slots=True)
class Seen:
    """What a pass over the lines gathered.

    Args:
        clips: file to its utterance and SHA-256.
        ids: utterances and entries to how often each was given.
        erased: utterances whose sound was erased.
        photos: file to the line that tells of it first, and its SHA-256.
        seal: SHA-256 of the newest line whose signature holds, without its line feed.
        since: the lines that hold changes and stand after it.
        lost: the lines that stand for one which could not be recovered, or not in full.
        recovered: the log was made of a damaged one.
        finished: the inspection was finished, and nothing was said since.
        zone: of the place where the log was opened.
    """

    problems: list[str] = field(default_factory=list)
    notices: list[str] = field(default_factory=list)
    clips: dict[str, tuple[str, object]] = field(default_factory=dict)
    ids: Counter[str] = field(default_factory=Counter)
    erased: set[str] = field(default_factory=set)
    photos: dict[str, tuple[int, str]] = field(default_factory=dict)
    seal: str = ""
    since: list[int] = field(default_factory=list)
    lost: list[int] = field(default_factory=list)
    recovered: bool = False
    finished: bool = False
    zone: timezone = UTC

    def gather(self, fact: Fact, line: bytes, before: Seal) -> None:
        """Takes in a line.

        Args:
            fact: what it says.
            line: its bytes, without the line feed.
            before: the seal of the lines before it.
        """
        if fact.type in (*_SAID, "clip-erased"):
            self._gather_utterance(fact)
        elif fact.type == SIGNED:
            self._gather_signature(fact, line, before)
        elif fact.type == PHOTO:
            self._gather_photo(fact)
        elif fact.type == "opened":
            self.zone = zone_of(fact.body)
            self.recovered |= RECOVERED in fact.body
            self.notices += _recovered_from(fact, self.zone)
        elif fact.type == WAS_SIGNED:
            self.notices.append(_was_signed(fact))
        if fact.type in ("closed", "utterance"):
            self.finished = fact.type == "closed"
        self.lost += lines_lost((fact,))
        if self.seal and holds_changes(fact):
            self.since.append(fact.seq)

    def _gather_utterance(self, fact: Fact) -> None:
        utterance = fact.body.get("utterance")
        if fact.type == "revised" and utterance is None:
            self.ids.update(_new_entries(fact.body.get("changes")))
        elif utterance_number(utterance) is None:
            self.problems.append(
                worded("Line {line} does not say which utterance it is about", line=fact.seq)
            )
        elif fact.type == "clip-erased":
            self.erased.add(str(utterance))
        else:
            self.ids.update([str(utterance), *_new_entries(fact.body.get("changes"))])
            self._gather_clip(fact, str(utterance))

    def _gather_clip(self, fact: Fact, utterance: str) -> None:
        clip: Any = fact.body.get("clip")
        if clip is None:  # typed, or its sound was not wanted
            return
        file = clip.get("file") if isinstance(clip, Mapping) else None
        if not lies_inside(file) or not str(file).startswith(f"{CLIPS}/"):
            self.problems.append(
                worded("Line {line} does not say where its clip is", line=fact.seq)
            )
        elif file in self.clips:
            self.problems.append(
                worded("Line {line} has the clip of another utterance", line=fact.seq)
            )
        else:
            self.clips[str(file)] = (utterance, clip.get("sha256"))

    def _gather_photo(self, fact: Fact) -> None:
        """A picture may be told of again, but never as other bytes."""
        try:
            photo = photo_of(fact)
        except LogFault as fault:
            self.problems.append(fault.message)
            return
        _, sha256 = self.photos.setdefault(photo.file, (fact.seq, photo.sha256))
        if sha256 != photo.sha256:
            self.problems.append(
                worded("Line {line} has another picture under a name already taken", line=fact.seq)
            )

    def _gather_signature(self, fact: Fact, line: bytes, before: Seal) -> None:
        """A signature that does not hold is a problem, and as good as not there."""
        try:
            signature = signature_of(fact)
        except LogFault as fault:
            self.problems.append(fault.message)
            return
        wrong = before.denies(signature)
        if wrong:
            self.problems.append(worded("Line {line} {wrong}", line=fact.seq, wrong=wrong))
            return
        self.notices.append(_signed(signature, self.zone))
        self.seal, self.since = digest(line), []

    def lacking(self) -> Iterator[str]:
        """A sentence on the lines that could not be recovered, if there are any."""
        if self.lost:
            yield worded(
                "Lines that could not be recovered, or not in full: {lines}", lines=spans(self.lost)
            )

    def later(self) -> Iterator[str]:
        """A sentence on what was changed after the newest signature, if anything was."""
        if not self.since:
            return
        shown: str = ", ".join(map(str, self.since[:_SHOWN_LINES]))
        if (more := len(self.since) - _SHOWN_LINES) > 0:
            shown = worded("{some} and {more} more", some=shown, more=more)
        yield worded_many(
            "1 change was made after signing (line {lines})",
            "{count} changes were made after signing (lines {lines})",
            len(self.since),
            lines=shown,
        )


def _was_signed(fact: Fact) -> str:
    """What a line of a recovered log says of a signature of the old one."""
    by = inert(str(fact.body.get("by", "")), _LONGEST_NAME)
    denied = DENIED in fact.body
    told_of = (
        to_word("Line {line} was a signature of {by}; what it signed was changed")
        if denied
        else to_word(
            "Line {line} was a signature of {by}; it vouched for the log this was recovered from"
        )
    )
    return worded(told_of, line=fact.seq, by=by)


def _recovered_from(opened: Fact, zone: timezone) -> Iterator[str]:
    """What the first line of a recovered log says of the old one."""
    told = opened.body.get(RECOVERED)
    if isinstance(told, Mapping):
        name = inert(str(told.get("folder", "")), _LONGEST_NAME)
        at = inert(day_in(str(told.get("at", "")), zone), _LONGEST_NAME)
        yield worded("Recovered on {day} from a damaged log, {log}", day=at, log=name)


def _new_entries(changes: object) -> Iterator[str]:
    """The ids that changes give; one that replaces an entry gives none."""
    for change in changes if isinstance(changes, list) else ():
        added = isinstance(change, Mapping) and change.get("do") == "add"
        entry = change.get("entry") if added else None
        if isinstance(entry, Mapping) and isinstance(entry.get("id"), str):
            yield entry["id"]


def _signed(signature: Signature, zone: timezone) -> str:
    by, lines = inert(signature.by, _LONGEST_NAME), signature.lines
    told = [worded_many("{count} line", "{count} lines", lines)]
    if points := len(signature.open):
        told.append(worded_many("{count} open point", "{count} open points", points))
    return worded(
        "Signed by {by} on {day}: {what}",
        by=by,
        day=stamp(signature.at, zone),
        what=joined(", ", told),
    )
