"""The cautions that open every inspection, as large as the screen allows."""

from __future__ import annotations

from math import ceil

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.inert import inert
from voicelog.runtime.messages import Action
from voicelog.tongue import to_word, worded
from voicelog.tui.actions import SPOKEN
from voicelog.tui.lettering import lettered

_GO_ON = to_word("Say “{yes}”, or press the A key")


class Cautions(Widget):
    """What has to be read before anything is touched; it covers the rest until it was."""

    sentences: reactive[tuple[str, ...]] = reactive(())

    def render(self) -> Content:
        """Each sentence under its number, then how to go on."""
        width, height = self.content_size
        told = [f"{n}  {inert(text, 240)}" for n, text in enumerate(self.sentences, 1)]
        told.append(worded(_GO_ON, yes=SPOKEN[Action.AFFIRM]))
        lines = _large(told, width, height) or told
        rows = sum(ceil(len(row) / max(1, width)) for line in lines for row in line.split("\n"))
        gap = "\n\n" if rows + len(lines) - 1 <= height else "\n"
        styles = ["bold"] * len(self.sentences) + ["bold $accent"]
        return Content(gap).join(map(Content.styled, lines, styles))


def _large(told: list[str], width: int, height: int) -> list[str]:
    """All sentences in large letters; none where one of them cannot be, or where they do not fit."""
    share = height // max(1, len(told)) - 1
    large = [lettered(text, width, share) for text in told]
    return large if all("\n" in text for text in large) else []
