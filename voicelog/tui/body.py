"""The middle of the screen: what was heard and found, the plan, what is unseen."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical

from voicelog.domain.entry import Finding, Inspection
from voicelog.domain.slot import Slots
from voicelog.domain.zone import ZoneMap
from voicelog.tui.entry_list import EntryList
from voicelog.tui.finding_card import FindingCard
from voicelog.tui.heard_lines import HeardLines
from voicelog.tui.plan_view import PlanView
from voicelog.tui.question_card import QuestionCard
from voicelog.tui.unseen import Unseen


class Body(Horizontal):
    """Three columns, of which a small window shows the first.

    Args:
        clock: seconds that only run forward.
    """

    def __init__(self, clock: Callable[[], float]) -> None:
        super().__init__()
        self._clock = clock
        self._zone_map = ZoneMap("", "", {})

    def compose(self) -> ComposeResult:
        """A question lies over the card; the style sheets say which of the two is seen."""
        with Vertical(id="found"):
            yield HeardLines()
            yield FindingCard()
            yield QuestionCard(self._clock)
            yield EntryList()
        yield PlanView()
        yield Unseen(classes="-panel")

    def show(self, inspection: Inspection, zone_map: ZoneMap, here: Slots) -> None:
        """What stands of the whole inspection.

        Args:
            inspection: as it stands.
            zone_map: titles of the zones, and where they lie.
            here: where the inspector is.
        """
        self._zone_map = zone_map
        self.query_one(EntryList).show(inspection, zone_map)
        self.query_one(PlanView).show(inspection, zone_map, here)
        self.query_one(Unseen).show(inspection.gaps, zone_map)

    def show_finding(self, finding: Finding) -> None:
        """Put an entry on the card."""
        self.query_one(FindingCard).show(finding, self._zone_map)

    def on_option_list_option_selected(self, event: EntryList.OptionSelected) -> None:
        """An entry was picked from the list: put it on the card."""
        self.show_finding(self.query_one(EntryList).shown[event.option_index])
