"""The review screen: the table, the entry that is looked at, its sound."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from voicelog.tui.key_line import KeyLine
from voicelog.tui.review.deeds import review_bindings
from voicelog.tui.review.detail_pane import DetailPane
from voicelog.tui.review.detail_words import title
from voicelog.tui.review.entry_table import EntryTable
from voicelog.tui.review.filter_line import FilterLine
from voicelog.tui.review.head_line import HeadLine
from voicelog.tui.review.looking import Looking
from voicelog.tui.review.say_line import SayLine
from voicelog.tui.review.standing_view import StandingView
from voicelog.tui.review.wave_view import WaveView

_ACROSS = [(0, "-below"), (120, "-side")]
"""Where the entry stands: under the table, or beside it."""
_DOWN = [(0, "-low"), (40, "-high")]
"""Lines from which on there is room below the entry for how the log stands."""


class ReviewScreen(Screen[None]):
    """Shows what is looked at; what keys do is the app's business.

    Args:
        looking: the log as somebody looks through it.
        clock: seconds that only run forward.
    """

    HORIZONTAL_BREAKPOINTS = _ACROSS
    VERTICAL_BREAKPOINTS = _DOWN
    AUTO_FOCUS = "EntryTable"
    BINDINGS: ClassVar[list[BindingType]] = list(review_bindings())

    def __init__(self, looking: Looking, clock: Callable[[], float]) -> None:
        super().__init__()
        self.looking, self._clock = looking, clock

    def compose(self) -> ComposeResult:
        """From the top: the log, the filters, the table, the entry with its sound, keys."""
        yield HeadLine()
        yield FilterLine()
        with Vertical(id="bench"):
            yield EntryTable(self.looking.listing, self.looking.known)
            with Vertical(id="entry"):
                yield Static(id="entry-title")
                yield WaveView()
                yield DetailPane(self.looking.rules)
                yield StandingView(self.looking)
        yield SayLine(self._clock)
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the first entry."""
        self.renew()

    def renew(self) -> None:
        """Entries, filters, order or signature have changed."""
        looking = self.looking
        table, filters, head = (
            self.query_one(EntryTable), self.query_one(FilterLine), self.query_one(HeadLine)
        )  # fmt: skip
        table.known, table.picked = looking.known, looking.picked
        table.renew()
        filters.order, filters.marked = looking.listing.order, len(looking.picked)
        filters.sifted = looking.listing.sifted
        head.told, head.signed, head.changed = looking.head()
        self.show_entry()

    def show_entry(self) -> None:
        """What is known at once of the entry that is looked at; a screen being left shows nothing."""
        if not self.query(DetailPane):
            return
        detail, zone_map = self.looking.detail, self.looking.known.zone_map
        told = Content("") if detail is None else title(detail.finding, zone_map)
        self.query_one("#entry-title", Static).update(told, layout=False)
        self.query_one(DetailPane).show(
            detail, self.looking.known, playing=self.looking.playing_word
        )
        self.show_sound()

    def show_standing(self) -> None:
        """How the whole log stands, where there is room for it."""
        for standing in self.query(StandingView):
            standing.renew()

    def show_sound(self) -> None:
        """Its sound, where that is in memory."""
        looking = self.looking
        spoken = looking.detail.spoken if looking.detail is not None else None
        self.query_one(WaveView).show(
            looking.sounded, spoken.words if spoken else (), spoken.at if spoken else 0,
            looking.sound_note(),
        )  # fmt: skip

    def show_playing(self, position_s: float | None) -> None:
        """Move the cursor through the sound; a screen being left has none."""
        for wave in self.query(WaveView):
            wave.play_at(position_s, self.looking.sound_note())

    def notice(self, text: str, *, serious: bool = False) -> None:
        """Say something in one line, unless the screen is being left."""
        for line in self.query(SayLine):
            line.show(text, serious=serious)

    async def action_deed(self, name: str) -> None:
        """Do what a key asks for."""
        await self.app.run_action(f"deed('{name}')", self.app)

    async def action_reading(self, number: int) -> None:
        """Take the reading of that number."""
        await self.app.run_action(f"reading({number})", self.app)
