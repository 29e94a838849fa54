"""The sound of an entry, drawn: how loud it is, where its words begin, where it is played."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from textual.content import Content
from textual.widget import Widget

from voicelog.domain.heard import Word
from voicelog.domain.inert import inert
from voicelog.review.waveform import LABEL_ROWS, bars, column_of, labels, ruler
from voicelog.runtime.bench_sound import Sounded
from voicelog.tongue import to_word

ESTIMATED = to_word("times estimated")

_HERE = "$block-cursor-foreground on $block-cursor-background"


class WaveView(Widget):
    """Bars, the words under them, and one line on how it is played."""

    def __init__(self) -> None:
        super().__init__()
        self.sounded: Sounded | None = None
        self.words: Sequence[Word] = ()
        self.at = 0
        self.position_s: float | None = None
        self.note = ""
        self._drawn: _Drawing | None = None

    def show(self, sounded: Sounded | None, words: Sequence[Word], at: int, note: str) -> None:
        """Draw another sound, or none.

        Args:
            sounded: the sound; None where there is none.
            words: with their times.
            at: the word that is looked at, from 0.
            note: how it is played, or why it is not.
        """
        self.sounded, self.words, self.at, self.note = sounded, words, at, note
        self.refresh()

    def play_at(self, position_s: float | None, note: str) -> None:
        """Move the cursor; None takes it away."""
        if (position_s, note) != (self.position_s, self.note):
            self.position_s, self.note = position_s, note
            self.refresh()

    def render(self) -> Content:
        """Bars, ruler, words and the note, as far as there is room."""
        width, height = self.content_size
        if self.sounded is None or width < 10 or height < 4:
            return Content(inert(self.note, 240))
        return Content("\n").join(self._lines(width, height))

    def _lines(self, width: int, height: int) -> Iterator[Content]:
        drawing = self._drawing(width, height)
        marked = self._column(self.position_s, width)
        for line in drawing.bars:
            yield _with_cursor(line, marked)
        begin, end = self._word_columns(width)
        ruler_line = Content(drawing.ruler)
        yield ruler_line.stylize(_HERE, begin, end) if end else ruler_line
        for line in drawing.labels:
            yield self._label(line, begin) if end else Content(line)
        yield Content(inert(self.note, 240))

    def _label(self, line: str, begin: int) -> Content:
        """A row of words; the one looked at on the cursor's colours, where it stands in this row."""
        text = inert(self.words[self.at].text)
        own = line.startswith(text, begin) and line[:begin][-1:] in ("", " ")
        return Content(line).stylize(_HERE, begin, begin + len(text)) if own else Content(line)

    def _drawing(self, width: int, height: int) -> _Drawing:
        """Bars get what ruler, words and note leave them; drawn once for each size and sound."""
        assert self.sounded is not None  # noqa: S101 - render has looked
        key = (self.sounded.utterance, tuple(self.words), width, height)
        if self._drawn is None or self._drawn.key != key:
            rows = 1 if height < 8 else LABEL_ROWS
            clip = self.sounded.clip
            self._drawn = _Drawing(
                key, bars(clip.pcm, width, max(1, height - 2 - rows)),
                ruler(self.words, clip.duration_s, width),
                labels(self.words, clip.duration_s, width)[:rows],
            )  # fmt: skip
        return self._drawn

    def _column(self, at_s: float | None, width: int) -> int | None:
        if at_s is None or self.sounded is None:
            return None
        return column_of(at_s, self.sounded.clip.duration_s, width)

    def _word_columns(self, width: int) -> tuple[int, int]:
        """Where the word that is looked at lies; 0 to 0 where nobody knows."""
        word = self.words[self.at] if self.at < len(self.words) else None
        begin = self._column(word.start_s, width) if word is not None else None
        if word is None or begin is None:
            return 0, 0
        end = self._column(word.end_s, width)
        return begin, max(begin + 1, end or 0)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """What stays as it is while the cursor moves."""

    key: object
    bars: tuple[str, ...]
    ruler: str
    labels: tuple[str, ...]


def _with_cursor(line: str, column: int | None) -> Content:
    if column is None or column >= len(line):
        return Content.styled(line, "$accent")
    return Content.assemble(
        (line[:column], "$accent"), ("┃", "bold $tone-voice-ink on $tone-voice"),
        (line[column + 1 :], "$accent"),
    )  # fmt: skip
