"""What nobody has looked at yet: how much, and what first."""

from __future__ import annotations

from collections.abc import Iterable

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.grade import Gap
from voicelog.domain.zone import ZoneMap
from voicelog.runtime.unseen_words import by_weight, counted, in_words
from voicelog.tongue import worded, worded_many
from voicelog.tui.looks import in_column


class Unseen(Widget):
    """On one line the counts and the weightiest; with more room, one line a place."""

    head: reactive[str] = reactive("")
    places: reactive[tuple[str, ...]] = reactive(())

    def on_mount(self) -> None:
        """Its name, in the frame that it has where there is room."""
        self.border_title = worded("STILL UNSEEN")

    def show(self, gaps: Iterable[Gap], zone_map: ZoneMap) -> None:
        """Tell what is open, with the titles and roles of the zones."""
        ordered = by_weight(gaps, zone_map)
        self.head = counted(ordered, zone_map)
        self.places = tuple(in_words(ordered, zone_map))

    def render(self) -> Content:
        """As many as fit; what does not is counted."""
        height, places = self.content_size.height, self.places
        head = Content.styled(self.head, "bold")
        if height < 2:
            first = "  " + worded("first: {place}", place=places[0]) if places else ""
            name = in_column(worded("UNSEEN"))[0] + "  "
            return Content.assemble((name, "$accent"), head, first)
        shown = places if len(places) < height else places[: height - 2]
        more = len(places) - len(shown)
        rest = [worded_many("… and {count} more", "… and {count} more", more)] if more else []
        return Content("\n").join([head, *map(Content, [*shown, *rest])])
