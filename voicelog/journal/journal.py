"""The journal of one inspection: what is written stays, in order, whatever happens next."""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Callable, Mapping
from contextlib import ExitStack
from pathlib import Path
from types import TracebackType
from typing import Any, Self, TypeVar

from voicelog.domain.fact import Fact
from voicelog.domain.sound import Clip
from voicelog.journal import clock
from voicelog.journal.append_file import AppendFile
from voicelog.journal.chain import Chain, open_journal
from voicelog.journal.clips import write_clip
from voicelog.journal.grammar import copy_grammar
from voicelog.journal.lines import decode, encode
from voicelog.journal.lock import Lock, take_lock
from voicelog.journal.naming import JOURNAL, free, utterance_number
from voicelog.journal.opening import known, new_folder
from voicelog.journal.reading import Walk, torn_line
from voicelog.journal.seal import Known
from voicelog.journal.storage import reading, storing, write_file
from voicelog.tongue import worded

T = TypeVar("T")


class Journal:
    """A log open for writing; one thread at a time. Use :meth:`create` or :meth:`reopen`.

    Attributes:
        folder: the log's.
        torn: what was set aside when it was opened again, in a sentence; else empty.
        unlocked: what the file system cannot do to keep a second writer away; else empty.
    """

    def __init__(self, folder: Path, chain: Chain, file: AppendFile, held: ExitStack) -> None:
        self.folder = folder
        self.torn = self.unlocked = ""
        self._chain = chain
        self._file = file
        self._held = held
        self._offset = clock.Offset.after(chain.offset_s, chain.at) if chain.at else clock.Offset()

    @classmethod
    def create(
        cls,
        parent: Path,
        *,
        subject: str = "",
        opened: Mapping[str, Any],
        grammar: Mapping[str, bytes],
    ) -> Self:
        """Begins a log in a new folder of its own.

        Args:
            parent: where the folder goes; made if need be.
            subject: what is inspected, in any words; part of the folder's name.
            opened: what the first fact says besides what the journal knows itself: the map's id,
                rails, settings, ear.
            grammar: the files in force, relative name to contents; copied into the log.

        Raises:
            InputFault: when a grammar file's name cannot be stored everywhere.
            StorageFault: when the disk refuses; nothing is left of the folder then.
        """
        with storing(worded("The new log")), ExitStack() as undo:
            moment = clock.utc_now()
            folder = new_folder(parent, moment, subject)
            undo.callback(shutil.rmtree, folder, ignore_errors=True)
            held = undo.enter_context(ExitStack())
            lock = _locked(folder, held)
            hashes = copy_grammar(folder, grammar)
            journal = cls._ending_in(folder, Chain(), held, new=True)
            journal.unlocked = lock.told
            journal.append("opened", {**opened, **known(moment, subject), "grammar": hashes})
            undo.pop_all()
        return journal

    @classmethod
    def reopen(cls, folder: Path, known: Known | None = None) -> Self:
        """Goes on with a log, after its last whole line, as :meth:`go_on` does."""
        return cls.go_on(folder, _pass_over, known)[0]

    @classmethod
    def go_on(
        cls, folder: Path, read: Callable[[Walk], T], known: Known | None = None
    ) -> tuple[Self, T]:
        """Goes on with a log, after its last whole line; reads it meanwhile.

        A torn last line, which was never acknowledged, is moved into ``journal.torn-<n>``;
        ``torn`` tells of it.

        Args:
            folder: the log's.
            read: takes the one pass over the lines to its end, while nobody else writes any.
            known: lines that were checked before.

        Returns:
            The journal, and what ``read`` gave.

        Raises:
            InputFault: when there is no log, or it cannot be read.
            LogFault: when it is damaged, or written by a newer version; no line is changed then.
            LockedFault: when somebody else is writing it.
            StorageFault: when the disk refuses.
        """
        with open_journal(folder):  # what is no log gets no lock file
            pass
        with storing(worded("The log {name}", name=folder.name)), ExitStack() as undo:
            held = undo.enter_context(ExitStack())
            lock = _locked(folder, held)
            walk = Walk(folder, known)
            found = read(walk)
            journal = cls._ending_in(folder, walk.chain, held)
            journal.unlocked = lock.told
            if walk.torn:
                journal._set_aside(walk.torn)
            journal._file.renew(walk.last + b"\n", size=walk.chain.size)
            undo.pop_all()
        return journal, found

    @classmethod
    def _ending_in(cls, folder: Path, chain: Chain, held: ExitStack, *, new: bool = False) -> Self:
        file = AppendFile(folder / JOURNAL, new=new)
        held.callback(file.close)
        return cls(folder, chain, file, held)

    @property
    def told(self) -> tuple[str, ...]:
        """What whoever opened it should know, one sentence each."""
        return tuple(filter(None, (self.torn, self.unlocked)))

    def _set_aside(self, torn: bytes) -> None:
        kept = free(self.folder, "journal.torn-")
        write_file(kept, torn)
        self._file.cut(self._chain.size)
        told = torn_line(self._chain, torn)
        self.torn = worded("{torn}; it was set aside in {file}", torn=told, file=kept.name)

    @property
    def next_seq(self) -> int:
        """The number of the next fact, and so of the utterance it may be about: ``u<seq>``."""
        return self._chain.seq + 1

    @property
    def offset_s(self) -> float:
        """Seconds since the log was opened; for one gone on with, the pause included."""
        return max(self._offset.now_s(), self._chain.offset_s)

    def append(self, type: str, body: Mapping[str, Any]) -> Fact:  # noqa: A002
        """Adds a fact; when this returns, the disk has it.

        Args:
            type: what kind of fact it is, for example ``utterance``.
            body: what it says, as JSON; no key of the envelope (``seq``, ``at``, ``offset_s``,
                ``prev``, ``type``, ``v``).

        Returns:
            The fact as a reader will see it.

        Raises:
            InputFault: when it is too long.
            StorageFault: when the disk refuses; the journal stays as it was, and the same call may
                be tried again.
            TypeError, ValueError: when the body is not JSON or holds a key of the envelope.
        """
        offset_s = self.offset_s
        at = clock.rfc3339(clock.utc_now())
        line = encode(Fact(self.next_seq, at, offset_s, self._chain.prev, type, body))
        fact = decode(line, self.next_seq)  # what could not be read back is never written
        with storing(worded("The journal")):
            self._file.append(line + b"\n", size=self._chain.size)
        self._chain = self._chain.after(fact, line)
        return fact

    def keep_clip(self, utterance: str, clip: Clip) -> dict[str, Any]:
        """Keeps the sound of an utterance; when this returns, the disk has it.

        Trying again, after the clip or its fact was refused, is harmless.

        Args:
            utterance: ``u<seq>`` of a fact to come.
            clip: its sound, at least one sample.

        Returns:
            What its fact says of it: ``file`` (inside the log's folder), ``sha256`` of the file,
            ``start_s``, ``duration_s``, ``samples``.

        Raises:
            StorageFault: when the disk refuses.
            ValueError: when the utterance has its fact already, or the clip is without sound.
        """
        number = utterance_number(utterance)
        if number is None or number < self.next_seq:
            raise ValueError(f"{utterance!r} is not an utterance to come")
        with storing(worded("The sound of {utterance}", utterance=utterance)):
            return write_clip(self.folder, utterance, clip)

    def sealed(self) -> tuple[int, str]:
        """How many lines there are, and the SHA-256 of all of them with their line feeds.

        Raises:
            InputFault: when they cannot be read.
        """
        with reading(self.folder):
            data = (self.folder / JOURNAL).read_bytes()[: self._chain.size]
        return self._chain.lines, hashlib.sha256(data).hexdigest()

    def close(self) -> None:
        """Lets the log go; closing twice is harmless."""
        self._held.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


def _pass_over(walk: Walk) -> None:
    for _ in walk:
        pass


def _locked(folder: Path, held: ExitStack) -> Lock:
    lock = take_lock(folder)
    held.callback(lock.release)
    return lock
