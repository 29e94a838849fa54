"""The review screen as an app: keys and palette to deeds."""

from __future__ import annotations

import gc
from collections.abc import Awaitable, Callable
from functools import partial
from pathlib import Path, PurePath
from time import monotonic
from typing import ClassVar

from textual.app import App
from textual.command import Provider
from textual.timer import Timer

from voicelog.config.settings import Settings
from voicelog.errors import VoicelogError
from voicelog.runtime.bench_sound import BenchSound
from voicelog.runtime.review import Review
from voicelog.tui.review import correcting
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.dictating import Dictate, through_microphone
from voicelog.tui.review.doing import DOES
from voicelog.tui.review.entry_table import EntryTable
from voicelog.tui.review.listening import Listening
from voicelog.tui.review.looking import Looking
from voicelog.tui.review.playing import Deck, Playing
from voicelog.tui.review.review_palette import ReviewDeeds
from voicelog.tui.review.review_screen import ReviewScreen
from voicelog.tui.terminal import driver
from voicelog.tui.themes import NAMES, themes

REST_S = 0.1
"""So long the cursor rests on an entry before what takes time is looked up."""


def sheets() -> list[str | PurePath]:
    """What all screens share first, then the sheets beside the widgets."""
    here = Path(__file__).parent
    shared = [here.parent / f"{name}.tcss" for name in ("app", "notice_line", "help_screen")]
    return [*shared, *sorted(here.glob("*.tcss"))]


class ReviewApp(App[None], inherit_bindings=False):
    """A log on the bench.

    Args:
        review: the log; closed by whoever opened it.
        settings: colours, microphone, where lessons go.
        deck: what plays clips.
        clock: seconds that only run forward.
        sound: the log's clips; its own when left out.
        dictate: listens to one sentence; through the microphone when left out.
    """

    CSS_PATH = sheets()
    TITLE = "voicelog review"
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {ReviewDeeds}

    def __init__(
        self,
        review: Review,
        settings: Settings,
        deck: Deck,
        *,
        clock: Callable[[], float] = monotonic,
        sound: BenchSound | None = None,
        dictate: Dictate | None = None,
    ) -> None:
        super().__init__(driver_class=driver())
        self.looking: Looking = Looking(review, sound or BenchSound(review.folder), Playing(deck))
        self.review_screen: ReviewScreen = ReviewScreen(self.looking, clock)
        self.bench: Bench = Bench(self, self.review_screen, self.looking, settings)
        self.listening: Listening = Listening(self, self.bench)
        self.dictate: Dictate = dictate or partial(through_microphone, settings, review.grammar)
        self._resting: Timer | None = None
        for made in themes():
            self.register_theme(made)
        self.theme = NAMES[settings.theme]

    def get_default_screen(self) -> ReviewScreen:
        """The review screen lies under everything else."""
        return self.review_screen

    def on_ready(self) -> None:
        """Say why nothing can be changed, where that is so; look into the first entry.

        What was read by now stays: Python need not look through it again and again, a tenth of a
        second each time.
        """
        gc.freeze()
        if self.looking.review.read_only:
            self.bench.say(f"Only to be read: {self.looking.review.read_only}", serious=True)
        self.rest()

    def on_entry_table_looked_at(self, event: EntryTable.LookedAt) -> None:
        """Show another entry at once, and what takes time once the cursor rests."""
        event.stop()
        self.looking.look()
        self.review_screen.notice("")
        self.review_screen.query_one(EntryTable).moved(event.before)
        self.review_screen.show_entry()
        self.rest()

    def rest(self) -> None:
        """Look into the entry once nothing moved for a moment."""
        if self._resting is not None:
            self._resting.stop()
        self._resting = self.set_timer(REST_S, self._look_into)

    def _look_into(self) -> None:
        self.looking.look_into()
        self.review_screen.show_entry()
        self.review_screen.show_standing()
        if self.looking.sounded is None:
            self.run_worker(self.listening.read(), group="sound", exclusive=True)

    def action_deed(self, name: str) -> None:
        """Do what a key or the palette asks for.

        Args:
            name: id of a deed.
        """
        self._do(partial(DOES[name], self))

    def action_reading(self, number: int) -> None:
        """Take one of the other readings, counted from 1."""
        self._do(partial(correcting.take, self.bench, number - 1))

    def _do(self, deed: Callable[[], Awaitable[None] | None]) -> None:
        """Do it now, or begin what waits for somebody; whatever goes wrong is told in one line."""
        try:
            waited_for = deed()
        except VoicelogError as fault:
            self.bench.say(str(fault), serious=True)
            return
        if waited_for is not None:
            self.run_worker(self._wait_for(waited_for), group="deeds")

    async def _wait_for(self, deed: Awaitable[None]) -> None:
        try:
            await deed
        except VoicelogError as fault:
            self.bench.say(str(fault), serious=True)
        self.rest()

    def change_colours(self) -> None:
        """Dark or light."""
        self.theme = NAMES["light" if self.theme == NAMES["dark"] else "dark"]
