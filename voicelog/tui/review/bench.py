"""What every deed at the bench needs: the log, the screen, a dialog, a line to say something on."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from textual.app import App

from voicelog.config.settings import Settings
from voicelog.domain.entry import Finding
from voicelog.domain.inert import inert
from voicelog.errors import SofteningFault, UsageFault, VoicelogError
from voicelog.runtime.bench_log import Done
from voicelog.runtime.review import Review
from voicelog.tongue import worded
from voicelog.tui.review.choices import Choice, Choose
from voicelog.tui.review.dialog import Dialog
from voicelog.tui.review.looking import Looking
from voicelog.tui.review.reason_dialog import ReasonDialog

if TYPE_CHECKING:
    from voicelog.interpret.suggest import Picker
    from voicelog.tui.review.review_screen import ReviewScreen

T = TypeVar("T")

Deed = Callable[[str], Done]
"""Does something to the log, given the reason for it, which may be empty."""


class Bench:
    """Where a person puts a log right.

    Args:
        app: shows dialogs.
        screen: shows the log.
        looking: what it shows.
        settings: in force.
    """

    def __init__(
        self, app: App[None], screen: ReviewScreen, looking: Looking, settings: Settings
    ) -> None:
        self._app, self.screen, self.looking, self.settings = app, screen, looking, settings
        self._asking = asyncio.Lock()
        self.alone = asyncio.Lock()
        """Held by whatever reads the log on another thread, and by every deed: it changes for neither."""

    @property
    def review(self) -> Review:
        """The log."""
        return self.looking.review

    @property
    def finding(self) -> Finding:
        """The entry that is looked at.

        Raises:
            UsageFault: none is shown.
        """
        finding = self.looking.listing.finding
        if finding is None:
            some = bool(self.looking.listing.by_id)
            raise UsageFault(
                worded("There is no entry here"),
                worded("f changes the filters") if some else worded("a adds one"),
            )
        return finding

    @property
    def entry(self) -> str:
        """Its id."""
        return self.finding.entry.id

    @property
    def entries(self) -> tuple[str, ...]:
        """Those that are marked, else the one that is looked at."""
        return tuple(self.looking.picked) or (self.entry,)

    @cached_property
    def picker(self) -> Picker:
        """The vocabulary, to choose values from."""
        from voicelog.interpret.suggest import (
            Picker,  # starts slowly; the first paint waits for none
        )

        grammar = self.review.grammar
        return Picker(grammar.vocabulary, grammar.zone_map, speech=self.settings.speech)

    def choices(self, slot: str, here: object = None) -> Choose:
        """The search for values of a slot."""
        near = here if isinstance(here, str) else None

        def choose(typed: str) -> Sequence[Choice]:
            return self.picker.choices(slot, typed, here=near)

        return choose

    async def ask(self, dialog: Dialog[T]) -> T | None:
        """Show a dialog and wait for its answer; None where it was left.

        One that comes up by itself waits for the one that somebody types in.
        """
        async with self._asking:
            return await self._app.push_screen_wait(dialog)

    async def do(self, deed: Deed, *, said: str = "") -> Done | None:
        """Do something to the log; what is unsafe is called less only with a typed reason.

        Args:
            deed: what is done.
            said: what to say of it; else that it was done.

        Raises:
            VoicelogError: it cannot be done; nothing has changed.
        """
        self.refuse_if_read_only()
        try:
            done = await self._done(deed, "")
        except SofteningFault as fault:
            why = await self.ask(ReasonDialog(fault.message, "The reason is kept in the log."))
            if why is None:
                self.say("Nothing was changed")
                return None
            done = await self._done(deed, why)
        self.took(done, said)
        return done

    async def _done(self, deed: Deed, why: str) -> Done:
        async with self.alone:
            return deed(why)

    def took(self, done: Done, said: str = "") -> None:
        """Show what a deed did."""
        self.looking.take(done.findings)
        self.screen.renew()
        self.say(said or self._told(done))

    def say(self, text: str, *, serious: bool = False) -> None:
        """Say something in one line."""
        self.screen.notice(text, serious=serious)

    def go_to(self, entry: str) -> bool:
        """Look at an entry; False where the filters hide it."""
        row = self.looking.listing.row_of(entry)
        if row < 0:
            return False
        self.looking.listing.look_at(row)
        self.looking.look()
        self.screen.renew()
        return True

    def _told(self, done: Done) -> str:
        """What a deed did, and to which entries; of undo and redo, which deed that was."""
        names = [finding.entry.id for finding in done.findings]
        shown = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
        match done.did:
            case "undo":
                return f"Taken back: {shown} {_did(self.review.can_redo)}. U does it again"
            case "redo":
                return f"Done again: {shown} {_did(self.review.can_undo)}. u takes it back"
        return f"{shown}: {_did(done.did)}. u takes it back"

    def refuse_if_read_only(self) -> None:
        """Say why the log cannot be changed, before anybody types in vain.

        Raises:
            VoicelogError: it can only be read.
        """
        if self.review.read_only:
            raise VoicelogError(worded("This log cannot be changed now"), self.review.read_only)


_DID = {
    "correct": "corrected", "runner-up": "took the other reading", "confirm": "confirmed",
    "withdraw": "withdrawn", "restore": "holds again", "split": "split", "merge": "merged",
    "add": "added", "reread": "read anew", "move": "moved",
}  # fmt: skip


def _did(deed: str) -> str:
    """A deed in the past; one of a newer version by its own name."""
    return _DID.get(deed, inert(deed, 40))
