"""The keys at the foot of a screen, in the language of whoever reads them."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.widgets import Footer
from textual.widgets._footer import FooterKey

from voicelog.tongue import worded


class KeyLine(Footer):
    """What the screen's bindings say of themselves: they are made before a language is known."""

    def __init__(self) -> None:
        super().__init__(compact=True, show_command_palette=False)

    def compose(self) -> ComposeResult:
        """The keys, each with its description looked up."""
        for made in super().compose():
            if isinstance(made, FooterKey):
                does = str(made.tooltip or "")
                made.description, made.tooltip = worded(made.description), worded(does)
            yield made
