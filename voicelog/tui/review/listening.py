"""Listening at the bench: the sound of the entry that is looked at, and the cursor through it."""

from __future__ import annotations

import asyncio

from textual.app import App
from textual.timer import Timer

from voicelog.errors import VoicelogError
from voicelog.runtime.bench_sound import Sounded
from voicelog.tongue import worded
from voicelog.tui.review.bench import Bench

TICK_S = 0.05
"""How often the place that is being played is looked at."""


class Listening:
    """Reads sounds on another thread, plays them, and writes down which were heard whole.

    Args:
        app: gives it time.
        bench: where it happens.
    """

    def __init__(self, app: App[None], bench: Bench) -> None:
        self._app, self._bench = app, bench
        self._looking, self._screen = bench.looking, bench.screen
        self._ticking: Timer | None = None
        self.plays_next = False
        """Going to the next doubtful entry also plays it."""

    async def read(self) -> Sounded | None:
        """The sound of the entry that is looked at; what is wrong with it stands under the wave."""
        detail = self._looking.detail
        if detail is None or detail.utterance is None or detail.utterance.clip is None:
            return None
        sounded, trouble = None, ""
        try:
            sounded = await asyncio.to_thread(self._looking.sound.of, detail.utterance)
        except VoicelogError as fault:
            trouble = str(fault)
        self._looking.take_sound(detail.utterance.id, trouble)
        self._screen.show_entry()
        return sounded

    async def play(self, *, here: bool = False) -> None:
        """Play the entry's sound, from its start or from the word in brackets; or stop."""
        playing = self._looking.playing
        if playing.deck.position_s is not None and not here:
            self.stop()
            return
        sounded = self._looking.sounded or await self.read()
        if sounded is None:
            self._bench.say(self._looking.sound_note() or worded("There is nothing to play"))
            return
        detail = self._looking.detail
        start_s = detail.spoken.start_s if here and detail is not None else 0.0
        playing.start(sounded, start_s or 0.0)
        trouble = playing.unheard()
        if trouble:
            told = worded("{why}. The cursor moves all the same", why=trouble)
            self._bench.say(told, serious=True)
        if self._ticking is None:
            self._ticking = self._app.set_interval(TICK_S, self.follow)

    def stop(self) -> None:
        """Fall silent."""
        self._looking.playing.deck.stop()
        self.follow()

    def follow(self) -> None:
        """Move the cursor to where the sound is; write down that a clip was heard whole."""
        looking, playing = self._looking, self._looking.playing
        at_s, own = playing.deck.position_s, looking.is_on_deck
        self._screen.show_playing(at_s if own else None)
        word = None
        if own and at_s is not None and looking.detail is not None:
            word = looking.detail.spoken.word_at(at_s)
        if word != looking.playing_word:
            looking.playing_word = word
            self._screen.show_entry()
        if playing.deck.finished_whole:
            self._write_down(playing.utterance)
        if at_s is None and self._ticking is not None:
            self._ticking.stop()
            self._ticking = None

    def loop(self) -> None:
        """Over and over, or once."""
        playing = self._looking.playing
        playing.loop = not playing.loop
        playing.again()
        self._bench.say(worded("Plays over and over") if playing.loop else worded("Plays once"))
        self._screen.show_sound()

    def slower(self) -> None:
        """The next speed."""
        playing = self._looking.playing
        trouble = playing.slower()
        self._bench.say(trouble or worded("Plays at {speed}", speed=f"{playing.speed:.0%}"))
        self._screen.show_sound()

    def toggle_next(self) -> None:
        """Whether going to the next doubtful entry plays it."""
        self.plays_next = not self.plays_next
        told = worded("n plays what it goes to") if self.plays_next else worded("n stays silent")
        self._bench.say(told)

    def _write_down(self, utterance: str) -> None:
        """That somebody has heard it, under the first of its entries."""
        for finding in self._looking.listing.by_id.values():
            if finding.entry.utterance == utterance:
                try:
                    self._looking.review.listened(finding.entry.id)
                except VoicelogError as fault:
                    self._bench.say(str(fault), serious=True)
                return
