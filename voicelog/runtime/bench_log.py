"""A log on the bench: read and folded, open for corrections unless something forbids them."""

from __future__ import annotations

import getpass
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings
from voicelog.dialogue.at_bench import put_right
from voicelog.domain.entry import Change, Entry, Finding, Inspection, Replace
from voicelog.domain.fact import Fact
from voicelog.domain.revision import Alternative, OpenPoint, Revision, Signature
from voicelog.domain.sound import Clip
from voicelog.domain.utterance import Utterance
from voicelog.errors import LockedFault, StorageFault, UsageFault
from voicelog.findings.places import place_in_words
from voicelog.journal.clock import rfc3339, utc_now
from voicelog.journal.grammar import kept_grammar
from voicelog.journal.journal import Journal
from voicelog.journal.naming import lies_inside
from voicelog.journal.reading import read_log
from voicelog.journal.trial import TrialJournal
from voicelog.review.open_points import open_points
from voicelog.review.revisions import REVISED
from voicelog.review.signatures import entries_after, signatures
from voicelog.runtime.going_on import as_then
from voicelog.runtime.logs import handed_over_again
from voicelog.runtime.reviewed import Reviewed
from voicelog.runtime.revised_fact import revised_body
from voicelog.runtime.softening import refuse_softening

if TYPE_CHECKING:
    from voicelog.runtime.rereading import Now, Rereader


@dataclass(frozen=True, slots=True)
class Done:
    """What a deed did.

    Args:
        seq: the line of the journal that holds it.
        did: the deed.
        findings: the entries it touched, as they stand now.
    """

    seq: int
    did: str
    findings: tuple[Finding, ...]


class BenchLog:
    """What a log holds, and the one way to write a correction into it; use :meth:`open`.

    Args:
        folder: the log's.
        facts: what it holds.
        settings: those in force now.
        journal: open for writing, or one that is only tried out; None for a log that cannot be
            written.
        by: who reviews it.
        read_only: why it cannot be written, in a sentence.
    """

    def __init__(
        self,
        folder: Path,
        facts: Sequence[Fact],
        settings: Settings,
        *,
        journal: Journal | TrialJournal | None,
        by: str,
        read_only: str = "",
    ) -> None:
        opened = facts[0].body
        self.folder, self.by, self.read_only = folder, by, read_only
        self.exported = ""  # what became of the document beside the log, once it is closed
        self._wrote = False
        self.subject = str(opened.get("subject", ""))
        self.settings = as_then(settings, opened)
        self.rails = self.settings.rails
        self.grammar = load_grammar(self.settings.map, folder=kept_grammar(folder, facts[0]))
        self._journal = journal
        self._log = Reviewed(self.grammar, self.rails, facts)
        self._made_rereader: Rereader | None = None

    @classmethod
    def open(cls, folder: Path, settings: Settings, *, by: str = "", trial: bool = False) -> Self:
        """A log read for reviewing; another program that writes it does not hinder reading.

        Args:
            folder: the log's.
            settings: in force now; what the log says of vehicle and speaker holds over them.
            by: who reviews; the setting ``inspector`` or the account's name when empty.
            trial: every deed is tried out, and nothing is written.

        Raises:
            InputFault: there is no log.
            LogFault: it is damaged or newer.
            GrammarFault: its own copy of the grammar cannot be used.
        """
        if trial:
            facts = read_log(folder).facts
            attempt = TrialJournal(folder, facts[-1])
            return cls(folder, facts, settings, journal=attempt, by=by or _somebody(settings))
        journal, read_only = _opened(folder)
        try:
            facts = read_log(folder).facts
            return cls(
                folder, facts, settings, journal=journal, by=by or _somebody(settings),
                read_only=read_only,
            )  # fmt: skip
        except BaseException:
            if journal is not None:
                journal.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let the log go, and renew the document beside it where there is one (:attr:`exported`).

        Closing twice is harmless.
        """
        if self._journal is not None:
            self._journal.close()
        if self._wrote:
            self._wrote, self.exported = False, handed_over_again(self.folder)

    @property
    def facts(self) -> tuple[Fact, ...]:
        """Every line of the log, in order."""
        return self._log.facts

    def inspection(self) -> Inspection:
        """Every entry in order, withdrawn ones included, and the verdict, as all stands now."""
        return self._log.inspection()

    def finding(self, entry: str) -> Finding:
        """An entry as it stands now.

        Raises:
            UsageFault: there is none of that id.
        """
        return self._log.finding(entry)

    def revisions(self, entry: str) -> tuple[Revision, ...]:
        """Every line that touched the entry, oldest first."""
        return self._log.revisions(entry)

    def utterance(self, entry: str) -> Utterance:
        """The utterance that made the entry.

        Raises:
            UsageFault: there is no such entry.
        """
        return self._log.utterance(entry)

    def clip_path(self, entry: str) -> Path | None:
        """The file with the sound of the entry's utterance; None where there is none."""
        clip = self.utterance(entry).clip
        if clip is None or not lies_inside(clip.file):
            return None
        path = self.folder / clip.file
        return path if path.is_file() else None

    def alternatives(self, entry: str) -> tuple[Alternative, ...]:
        """The entry as other readings of the same sound have it, graded, the likeliest first."""
        others = self._others(entry)
        return tuple(Alternative(other.text, self._as_if(other)) for other in others)

    def _others(self, name: str) -> list[Entry]:
        """The entry as other readings of the same sound have it, as they would be kept.

        What the probe did a sentence later holds whatever the sentence before it was.
        """
        entry, utterance = self._kept(name), self.utterance(name)
        fact = self._log.fact_of(utterance.id)
        body: Mapping[str, Any] = {} if fact is None else fact.body
        others = self._rereader.others(entry, self._log.once_said(name), utterance.heard, body)
        late, zone_map = self._log.said_late(name), self.grammar.zone_map
        return [put_right(other, late, zone_map) if late else other for other in others]

    def _kept(self, name: str) -> Entry:
        """An entry as it was kept, before anything is worked out from it.

        Raises:
            UsageFault: there is none.
        """
        state = self._log.states([self.finding(name).entry.id])[name]
        assert state is not None, "an entry that is found has a state"  # noqa: S101
        return state.entry

    def signatures(self) -> tuple[Signature, ...]:
        """Who signed the log, and when."""
        return signatures(self.facts)

    def after_signing(self, entry: str) -> bool:
        """True for an entry that was touched after the newest signature."""
        return entry in entries_after(self.facts)

    def open_points(self) -> tuple[OpenPoint, ...]:
        """What is unresolved, the worst first."""
        return open_points(
            self.inspection(), self.grammar.zone_map, listened=self._log.listened,
            place=lambda slots: place_in_words(slots, self.grammar.zone_map),
            silent=self._log.silent,
        )  # fmt: skip

    @property
    def _rereader(self) -> Rereader:
        if self._made_rereader is None:
            from voicelog.runtime.rereading import Rereader  # the reader starts slowly

            self._made_rereader = Rereader(self.settings, self.grammar)
        return self._made_rereader

    def _now(self) -> Now:
        from voicelog.runtime.rereading import Now

        return Now(f"u{self._writable.next_seq}", rfc3339(utc_now()))

    @property
    def _writable(self) -> Journal | TrialJournal:
        if self._journal is None:
            raise UsageFault("This log cannot be changed now", self.read_only)
        return self._journal

    def _commit(
        self,
        did: str,
        changes: Sequence[Change],
        why: str = "",
        *,
        merging: bool = False,
        clip: Clip | None = None,
        **more: Any,
    ) -> Done:
        """Write one correction down and take it in: all of it, or none.

        Sound is kept last: what is refused leaves no file behind.
        """
        journal, findings = self._writable, self._log.preview(changes)
        before = self._before(findings)
        if all(_as_it_was(before.get(finding.entry.id), finding) for finding in findings):
            raise UsageFault("Nothing would change", "The entry says this already")
        if not why.strip():
            refuse_softening(before, findings, merging=merging)
        kept = None if clip is None else journal.keep_clip(more["utterance"], clip)
        more |= {"clip": kept}
        fact = self._write(
            REVISED, revised_body(did, self.by, why.strip(), changes, findings, more)
        )
        return Done(fact.seq, did, tuple(self._log.finding(f.entry.id) for f in findings))

    def _write(self, type: str, body: Mapping[str, Any]) -> Fact:  # noqa: A002
        """One line more, on the disk and taken in."""
        fact = self._writable.append(type, body)
        self._log.take(fact)
        self._wrote = isinstance(self._journal, Journal)
        return fact

    def _before(self, findings: Iterable[Finding]) -> dict[str, Finding]:
        known = [f.entry.id for f in findings if self._log.states([f.entry.id])[f.entry.id]]
        return {name: self._log.finding(name) for name in known}

    def _as_if(self, entry: Entry) -> Finding:
        """The entry graded as if it stood like this."""
        return self._log.preview([Replace(entry)])[0]


def _as_it_was(before: Finding | None, after: Finding) -> bool:
    return before is not None and (before.entry, before.withdrawn) == (after.entry, after.withdrawn)


def _opened(folder: Path) -> tuple[Journal | None, str]:
    """The log open for writing; or None, and why it can only be read.

    Raises:
        InputFault: there is no log.
        LogFault: it is damaged or newer.
    """
    try:
        return Journal.reopen(folder), ""
    except (LockedFault, StorageFault) as fault:
        return None, str(fault)


def _somebody(settings: Settings) -> str:
    """Who sits at this machine, as far as it knows."""
    if settings.inspector:
        return settings.inspector
    try:
        return getpass.getuser()
    except (KeyError, OSError):  # an account without a name
        return "unnamed"
