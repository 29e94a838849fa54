"""The palette: everything that can be asked for, by name."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import ClassVar

from textual.command import DiscoveryHit, Hit, Hits, Provider

from voicelog.tui.actions import DEEDS, Deed


class Deeds(Provider):
    """Offers every deed to Textual's command palette."""

    deeds: ClassVar[Sequence[Deed]] = DEEDS

    async def discover(self) -> Hits:
        """All of them, before anything is typed."""
        for deed in self.deeds:
            yield DiscoveryHit(deed.title, self._doing(deed), help=_help(deed))

    async def search(self, query: str) -> Hits:
        """Those whose title or words are like what was typed."""
        matcher = self.matcher(query)
        for deed in self.deeds:
            score = max(matcher.match(deed.title), matcher.match(deed.spoken))
            if score > 0:
                title = matcher.highlight(deed.title)
                yield Hit(score, title, self._doing(deed), help=_help(deed))

    def _doing(self, deed: Deed) -> Callable[[], object]:
        return partial(self.app.run_action, f"deed('{deed.id}')", self.app)


def _help(deed: Deed) -> str:
    return f"{deed.does} Key: {deed.shown_keys}"
