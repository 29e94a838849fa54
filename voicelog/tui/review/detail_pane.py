"""The entry that is looked at, whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.strip import Strip

from voicelog.tongue import to_word, worded
from voicelog.tui.review.detail_words import NAME, Detail, detail_lines
from voicelog.tui.review.lines_view import LinesView
from voicelog.tui.review.marks import Known

_EMPTY = to_word("There is no entry to look at.")


class DetailPane(LinesView):
    """Lines that wrap under themselves, below the title.

    They are drawn one by one, so that another entry needs no new layout of the screen.

    Args:
        rules: rule to its sentence.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "scroll_down", "Down", show=False),
        Binding("up", "scroll_up", "Up", show=False),
        Binding("pagedown", "page_down", "Page down", show=False),
        Binding("pageup", "page_up", "Page up", show=False),
    ]

    def __init__(self, rules: Mapping[str, str]) -> None:
        super().__init__()
        self._rules = rules
        self._detail: Detail | None = None
        self._playing: int | None = None
        self._known: Known | None = None
        self._lines: tuple[Content, ...] = ()
        self._width = 0

    def show(self, detail: Detail | None, known: Known, *, playing: int | None = None) -> None:
        """Put an entry on the pane; where it stood scrolled stays only for the same entry.

        Args:
            detail: the entry; None where none is shown.
            known: what its marks are told from.
            playing: the word that is being played, from 0.
        """
        before, self._detail = self._detail, detail
        self._playing, self._known = playing, known
        if before is None or detail is None or before.finding.entry.id != detail.finding.entry.id:
            self.scroll_home(animate=False, immediate=True)
        self._draw()

    def text(self) -> str:
        """All of it, as it is wrapped."""
        return "\n".join(line.plain for line in self._lines)

    def on_resize(self) -> None:
        """Wrap anew, unless it has only become longer or shorter."""
        if self.scrollable_content_region.width != self._width:
            self._draw()

    def render_line(self, y: int) -> Strip:
        """The line that is scrolled to this one."""
        number = self.scroll_offset.y + y
        return self.strip(self._lines[number] if number < len(self._lines) else Content(""))

    def _draw(self) -> None:
        lines: Iterable[Content] = (Content(worded(_EMPTY)),)
        width = self._width = self.scrollable_content_region.width
        if self._detail is not None and self._known is not None:
            told = detail_lines(self._detail, self._known, self._rules, playing=self._playing)
            lines = _wrapped(told, width)
        self._lines = tuple(lines)
        self.hold(len(self._lines))


def _wrapped(lines: Iterable[tuple[str, Content]], width: int) -> Iterator[Content]:
    """Each line beside its name; what does not fit goes on under itself."""
    lines, before = tuple(lines), ""
    across = min(max(NAME, *(len(name) + 1 for name, _ in lines)), max(NAME, width // 4))
    for name, line in lines:
        label = Content("" if name == before else name)
        before = name
        for part in line.wrap(max(12, width - across)):
            cell = label.truncate(across - 1, ellipsis=True, pad=True)
            yield Content.assemble((f"{cell.plain} ", "$accent"), part)
            label = Content("")
