"""The keys at the foot of a screen, in the language of whoever reads them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.app import ComposeResult
from textual.widgets import Footer
from textual.widgets._footer import FooterKey, FooterLabel

from voicelog.tongue import worded

HELP = "deed('help')"
"""What the key does that is named whatever the room: it leads to all others."""
MORE = "…"
"""Stands behind the keys where some had no room."""


class KeyLine(Footer):
    """What the screen's bindings say of themselves: they are made before a language is known."""

    def __init__(self) -> None:
        super().__init__(compact=True, show_command_palette=False)

    def compose(self) -> ComposeResult:
        """As many keys as fit, each with its description looked up."""
        keys = [made for made in super().compose() if isinstance(made, FooterKey)]
        for key in keys:
            does = str(key.tooltip or "")
            key.description, key.tooltip = worded(key.description), worded(does)
        fitting = list(_fitting(keys, self.app.size.width))
        yield from fitting
        if len(fitting) < len(keys):
            yield FooterLabel(MORE)

    def on_resize(self) -> None:
        """More of them may fit, or fewer."""
        self.call_after_refresh(self.recompose)


def _fitting(keys: Sequence[FooterKey], width: int) -> Iterator[FooterKey]:
    """Those that have room, in their order; help always has."""
    needed = {key: len(key.key_display) + len(key.description) + 2 for key in keys}
    room = width + 1  # behind the last one no blank is needed
    if sum(needed.values()) > room:
        room = width - len(MORE) - sum(needed[key] for key in keys if key.action == HELP)
        needed |= {key: 0 for key in keys if key.action == HELP}
    for key, wide in needed.items():
        room -= wide
        if room >= 0 or not wide:
            yield key
