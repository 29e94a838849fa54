"""A log on the bench: read and folded, open for corrections unless something forbids them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from voicelog.config.cache import checked_folder
from voicelog.config.learned_files import inspector
from voicelog.config.settings import Settings
from voicelog.domain.entry import Change, Finding
from voicelog.domain.fact import Fact
from voicelog.domain.sound import Clip
from voicelog.errors import LockedFault, StorageFault, UsageFault, VoicelogError
from voicelog.journal import clock
from voicelog.journal.grammar import kept_grammar
from voicelog.journal.journal import Journal
from voicelog.journal.reading import Log
from voicelog.journal.trial import TrialJournal
from voicelog.review.revisions import REVISED
from voicelog.runtime.bench_view import BenchView
from voicelog.runtime.checked_log import checked_log, log_to_go_on_with
from voicelog.runtime.going_on import as_then
from voicelog.runtime.logs import handed_over_again
from voicelog.runtime.revised_fact import revised_body
from voicelog.runtime.softening import refuse_milder, refuse_softening
from voicelog.tongue import NOTHING, worded

if TYPE_CHECKING:
    from voicelog.runtime.rereading import Now


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


class BenchLog(BenchView):
    """A log, and the one way to write a correction into it; use :meth:`open`.

    Args:
        folder: the log's.
        facts: what it holds.
        settings: those in force now.
        journal: open for writing, or one that is only tried out; None for a log that cannot be
            written.
        by: who reviews it.
        refused: why it cannot be written.

    Attributes:
        read_only: the same in a sentence; empty where it can be written.
    """

    def __init__(
        self,
        folder: Path,
        facts: Sequence[Fact],
        settings: Settings,
        *,
        journal: Journal | TrialJournal | None,
        by: str,
        refused: VoicelogError | None = None,
    ) -> None:
        then = as_then(settings, facts[0].body)
        grammar = checked_folder(then.map, kept_grammar(folder, facts[0]))
        super().__init__(folder, facts, then, grammar)
        self.by = by
        self.read_only = NOTHING if refused is None else refused.told
        self.exported = ""  # what became of the document beside the log, once it is closed
        self._wrote = False
        self._journal, self._refused = journal, refused

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
        by = by.strip() or inspector(settings)
        if trial:
            facts = checked_log(folder).facts
            return cls(folder, facts, settings, journal=TrialJournal(folder, facts[-1]), by=by)
        journal, log, refused = _opened(folder)
        try:
            return cls(folder, log.facts, settings, journal=journal, by=by, refused=refused)
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

    def _now(self) -> Now:
        from voicelog.runtime.rereading import Now

        return Now(f"u{self._writable.next_seq}", clock.rfc3339(clock.utc_now()))

    @property
    def next_seq(self) -> int:
        """The number that the next line will get.

        Raises:
            LockedFault, StorageFault: the log can only be read, and why.
        """
        return self._writable.next_seq

    @property
    def _writable(self) -> Journal | TrialJournal:
        """Where the next line goes.

        Raises:
            LockedFault, StorageFault: the log can only be read, and why.
        """
        if self._journal is None:
            fault = type(self._refused) if self._refused is not None else StorageFault
            raise fault(worded("This log cannot be changed now"), self.read_only)
        return self._journal

    def _commit(
        self,
        did: str,
        changes: Sequence[Change],
        why: str = "",
        *,
        merging: bool = False,
        deciding: bool = False,
        clip: Clip | None = None,
        **more: Any,
    ) -> Done:
        """Write one correction down and take it in: all of it, or none.

        Sound is kept last: what is refused leaves no file behind. With ``deciding`` a line is written
        though all stays as it was.
        """
        journal, findings = self._writable, self._log.preview(changes)
        before = self._before(findings)
        if not deciding and all(_as_it_was(before.get(f.entry.id), f) for f in findings):
            raise UsageFault(worded("Nothing would change"), worded("The entry says this already"))
        if not why.strip():
            (refuse_milder if merging else refuse_softening)(before, findings)
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


def _as_it_was(before: Finding | None, after: Finding) -> bool:
    return before is not None and (before.entry, before.withdrawn) == (after.entry, after.withdrawn)


def _opened(folder: Path) -> tuple[Journal | None, Log, VoicelogError | None]:
    """The log, open for writing; or None, what is in it, and why it can only be read.

    Raises:
        InputFault: there is no log.
        LogFault: it is damaged or newer.
    """
    try:
        return *log_to_go_on_with(folder), None
    except (LockedFault, StorageFault) as fault:
        return None, checked_log(folder), fault
