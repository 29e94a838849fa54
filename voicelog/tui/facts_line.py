"""What runs: time, talk, log, ear, microphone."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.inert import inert
from voicelog.domain.signal import Talk
from voicelog.runtime.messages import Opened
from voicelog.tongue import worded


class FactsLine(Widget):
    """One line; what is known least well without it comes first."""

    opened: reactive[Opened | None] = reactive(None)
    talk: reactive[Talk] = reactive(Talk.FINDINGS)
    elapsed_s: reactive[int] = reactive(0)

    def render(self) -> Content:
        """The facts, with their names; the end is cut off where there is no room."""
        minutes, seconds = divmod(self.elapsed_s, 60)
        hours, minutes = divmod(minutes, 60)
        clock = f"{hours}:{minutes:02}:{seconds:02}"
        facts = [(worded("TIME"), clock), (worded("TALK"), str(self.talk))]
        if self.opened is not None:
            ear = self.opened.ear.partition(" (")[0]  # its model is in the log
            facts += [
                (worded("LOG"), inert(self.opened.log.name, 80)), (worded("EAR"), inert(ear, 60)),
                (worded("MIC"), inert(self.opened.device, 60)),
            ]  # fmt: skip
        pieces = [Content.assemble((name, "$accent"), f" {fact}") for name, fact in facts]
        return Content("  ").join(pieces)
