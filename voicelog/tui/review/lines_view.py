"""Lines that are drawn one by one, in a place whose size never depends on how many they are."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.visual import Visual
from textual.widget import Widget


class LinesView(ScrollView, can_focus=True):
    """A place that scrolls, with a scroll bar always in sight."""

    def hold(self, lines: int) -> None:
        """So many lines can be scrolled through from now on.

        Said through the reactive attribute, the whole screen would be laid out and drawn anew, which
        takes as long as all else that answers a key; nothing moves here but the scroll bar.

        Args:
            lines: a heading included.
        """
        size = Size(self.scrollable_content_region.width, lines)
        if size != self.virtual_size:
            self.set_reactive(Widget.virtual_size, size)
            self.vertical_scrollbar.window_virtual_size = lines
        if self.scroll_y > self.max_scroll_y:
            self.scroll_to(y=self.max_scroll_y, animate=False, force=True, immediate=True)
        self.refresh()

    def strip(self, line: Content, part: str = "") -> Strip:
        """A line as it is drawn, as wide as the place.

        Args:
            line: its text.
            part: the component class that styles it; empty for the widget's own style.
        """
        style = self.get_visual_style(part) if part else self.visual_style
        width = self.size.width
        return Visual.to_strips(self, line, width, 1, style, apply_selection=False, pad=True)[0]
