"""What every deed at the bench needs: the log, the screen, a dialog, a line to say something on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from textual.app import App

from voicelog.config.settings import Settings
from voicelog.domain.entry import Finding
from voicelog.errors import SofteningFault, VoicelogError
from voicelog.runtime.bench_log import Done
from voicelog.runtime.review import Review
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
            raise VoicelogError("There is no entry here", "Change the filters: f")
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
        """Show a dialog and wait for its answer; None where it was left."""
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
            done = deed("")
        except SofteningFault as fault:
            why = await self.ask(ReasonDialog(fault.message, "The reason is kept in the log."))
            if why is None:
                self.say("Nothing was changed")
                return None
            done = deed(why)
        self.took(done, said)
        return done

    def took(self, done: Done, said: str = "") -> None:
        """Show what a deed did."""
        self.looking.take(done.findings)
        self.screen.renew()
        self.say(said or _told(done))

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

    def refuse_if_read_only(self) -> None:
        """Say why the log cannot be changed, before anybody types in vain.

        Raises:
            VoicelogError: it can only be read.
        """
        if self.review.read_only:
            raise VoicelogError("This log cannot be changed now", self.review.read_only)


_DID = {
    "correct": "corrected", "runner-up": "took the other reading", "confirm": "confirmed",
    "withdraw": "withdrawn", "restore": "holds again", "split": "split", "merge": "merged",
    "add": "added", "reread": "read anew", "move": "moved", "undo": "taken back",
    "redo": "done again",
}  # fmt: skip


def _told(done: Done) -> str:
    """What a deed did, and to which entries."""
    names = [finding.entry.id for finding in done.findings]
    shown = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
    back = {"undo": "U does it again"}.get(done.did, "u takes it back")
    return f"{shown}: {_DID.get(done.did, done.did)}. {back}"
