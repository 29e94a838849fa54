"""The list of entries, newest on top: one list, never a widget for each."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from voicelog.domain.entry import Finding, Inspection
from voicelog.domain.zone import ZoneMap
from voicelog.tongue import worded
from voicelog.tui.entry_words import place_words, trimmed, what_words, worth_listing
from voicelog.tui.looks import look_of, sign_cell

LONGEST = 60
"""Entries shown; the log keeps them all."""


class EntryList(OptionList):
    """One line an entry: sign and grade, where, what, whether it is doubtful."""

    def __init__(self) -> None:
        super().__init__(compact=True, markup=False)
        self.border_title = worded("ENTRIES")
        self.shown: tuple[Finding, ...] = ()

    def show(self, inspection: Inspection, zone_map: ZoneMap) -> None:
        """Put the newest entries into the list; the one that was picked stays picked."""
        told = worth_listing(inspection)
        picked = self._picked()
        self.shown = tuple(trimmed(finding) for finding in told[:LONGEST])
        self.set_options([Option(_line(finding, zone_map)) for finding in self.shown])
        ids = [finding.entry.id for finding in self.shown]
        self.highlighted = ids.index(picked) if picked in ids else None
        self.border_subtitle = f"{len(told)}"

    def _picked(self) -> str:
        """Id of the entry that is picked; empty where none is."""
        at = self.highlighted
        return self.shown[at].entry.id if at is not None and at < len(self.shown) else ""


def _line(finding: Finding, zone_map: ZoneMap) -> Content:
    look = look_of(finding)
    doubt = ("  " + worded("? doubtful"), "bold") if finding.entry.doubtful else ""
    return Content.assemble(
        sign_cell(look, 12), " ",
        (place_words(finding.entry, zone_map), "bold"), " — ", what_words(finding), doubt,
    )  # fmt: skip
