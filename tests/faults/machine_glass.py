"""What stands on a terminal: as much of one as a screen drawn by this program needs, and no more."""

from __future__ import annotations

import re
import unicodedata

_SEQUENCE = re.compile(
    r"\x1b(?:\[(?P<args>[0-9;?<>=]*)(?P<inter>[ -/]*)(?P<final>[@-~])"
    r"|\](?P<told>[^\x07\x1b]*)(?:\x07|\x1b\\)|[PX^_][^\x1b]*\x1b\\|[()#][0-9A-Za-z]|[=>78cDEHMNOZ])"
)
_UNFINISHED = re.compile(r"\x1b(?:\[[0-9;?<>=]*[ -/]*|\][^\x07\x1b]*|[PX^_][^\x1b]*|[()#])?$")


_OWN = re.compile(r"22;")
"""Commands of the kind ``ESC ]`` that the screen's toolkit gives by itself: the shape of the pointer."""


def plain(text: str) -> str:
    """Without control sequences."""
    return _SEQUENCE.sub("", text).replace("\r", "")


class Glass:
    """A screen of characters; colours are left out.

    Attributes:
        rows: what stands there, top to bottom.
        alone: the program has taken the whole screen for itself and not given it back.
        refused: control sequences that the program itself has no use for, which therefore came from
            what it showed.
    """

    def __init__(self, columns: int, lines: int) -> None:
        self._rest = ""
        self.alone = False
        self.refused: list[str] = []
        self.resize(columns, lines)

    def resize(self, columns: int, lines: int) -> None:
        """Another size; whoever draws on it draws anew."""
        self._columns, self._lines = columns, lines
        self._cells = [[" "] * columns for _ in range(lines)]
        self._x = self._y = 0

    @property
    def rows(self) -> list[str]:
        """The lines, without blanks at their ends."""
        return ["".join(line).rstrip() for line in self._cells]

    def write(self, text: str) -> None:
        """What the program wrote."""
        text, at = self._rest + text, 0
        for found in _SEQUENCE.finditer(text):
            self._print(text[at : found.start()])
            self._control(found)
            at = found.end()
        left = text[at:]
        unfinished = _UNFINISHED.search(left)
        self._rest = unfinished.group() if unfinished else ""
        self._print(left[: len(left) - len(self._rest)])

    def _print(self, text: str) -> None:
        for character in text:
            if character == "\n":
                self._y = min(self._y + 1, self._lines - 1)
            elif character == "\r":
                self._x = 0
            elif character.isprintable():
                self._put(character)

    def _put(self, character: str) -> None:
        if unicodedata.combining(character):
            return
        if self._y < self._lines and self._x < self._columns:
            self._cells[self._y][self._x] = character
        self._x += 2 if unicodedata.east_asian_width(character) in "WF" else 1

    def _control(self, found: re.Match[str]) -> None:
        final, args = found["final"], found["args"] or ""
        if found["told"] is not None and _OWN.match(found["told"]):
            return
        if found.group().startswith(("\x1b]", "\x1bP", "\x1b^", "\x1b_", "\x1bc")):
            self.refused.append(found.group())
        elif final in ("H", "f"):
            line, _, column = args.partition(";")
            self._y, self._x = int(line or 1) - 1, int(column or 1) - 1
        elif final == "J" and args in ("2", "3"):
            self._cells = [[" "] * self._columns for _ in range(self._lines)]
        elif final == "K" and self._y < self._lines:
            self._cells[self._y][self._x :] = [" "] * (self._columns - self._x)
        elif final in ("h", "l") and "1049" in args:
            self.alone = final == "h"
