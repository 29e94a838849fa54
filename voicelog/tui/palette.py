"""The palette: everything that can be asked for, by name."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, ClassVar

from textual.app import App
from textual.command import CommandPalette, DiscoveryHit, Hit, Hits, Provider

from voicelog.tongue import worded
from voicelog.tui.actions import DEEDS, Deed


class Deeds(Provider):
    """Offers every deed to Textual's command palette."""

    deeds: ClassVar[Sequence[Deed]] = DEEDS

    async def discover(self) -> Hits:
        """All of them, before anything is typed."""
        for deed in self.deeds:
            yield DiscoveryHit(worded(deed.title), self._doing(deed), help=_help(deed))

    async def search(self, query: str) -> Hits:
        """Those whose title or words are like what was typed."""
        matcher = self.matcher(query)
        for deed in self.deeds:
            title = worded(deed.title)
            score = max(matcher.match(title), matcher.match(deed.spoken))
            if score > 0:
                title_shown = matcher.highlight(title)
                yield Hit(score, title_shown, self._doing(deed), help=_help(deed))

    def _doing(self, deed: Deed) -> Callable[[], object]:
        return partial(self.app.run_action, f"deed('{deed.id}')", self.app)


def _help(deed: Deed) -> str:
    return worded("{does} Key: {keys}", does=worded(deed.does), keys=deed.shown_keys)


def open_palette(app: App[Any]) -> None:
    """Show it, with its empty line in the language of whoever reads it."""
    if not CommandPalette.is_open(app):
        empty = worded("Search for commands…")
        app.push_screen(CommandPalette(placeholder=empty, id="--command-palette"))
