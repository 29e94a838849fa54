"""A grade in large letters on its colour, with its sign above and what limits it below."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from voicelog.tui.lettering import lettered
from voicelog.tui.looks import Look

NOTHING = Look("", " ", "unseen")


class Badge(Widget):
    """The grade (or kind) of the entry on the card."""

    look: reactive[Look] = reactive(NOTHING)
    notes: reactive[tuple[str, ...]] = reactive(())

    def watch_look(self, old: Look, new: Look) -> None:
        """Take on the colours of the grade."""
        self.remove_class(old.css_class)
        self.add_class(new.css_class)

    def render(self) -> Content:
        """Sign, word, sign, then notes, as far as there is room."""
        width, height = self.content_size
        spare = max(1, height - len(self.notes))
        word = lettered(self.look.word, width, spare)
        signs = self.look.sign * width
        rows = [word]
        if spare >= word.count("\n") + 3:
            rows = [signs, word, signs]
        return Content("\n".join([*rows, *self.notes]))
