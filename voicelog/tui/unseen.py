"""What nobody has looked at yet: how much, and what first."""

from __future__ import annotations

from collections.abc import Iterable

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.domain.grade import Gap
from voicelog.domain.zone import ZoneMap
from voicelog.tui.open_places import by_weight, counted, in_words


class Unseen(Widget):
    """On one line the counts and the weightiest; with more room, one line a place."""

    BORDER_TITLE = "STILL UNSEEN"

    head: reactive[str] = reactive("")
    places: reactive[tuple[str, ...]] = reactive(())

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
            first = f"  first: {places[0]}" if places else ""
            return Content.assemble(("UNSEEN   ", "$accent"), head, first)
        shown = places if len(places) < height else places[: height - 2]
        rest = [f"… and {len(places) - len(shown)} more"] if len(shown) < len(places) else []
        return Content("\n").join([head, *map(Content, [*shown, *rest])])
