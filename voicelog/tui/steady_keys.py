"""Keys and pasted text, read so that nothing that comes in can stop the keyboard for good.

The toolkit's own reader has three weaknesses that only show on a busy machine, or with odd text:

- An escape sequence that arrives in two pieces counts as broken after 0.1 s, even where the second
  piece is there already and only the machine was slow. Broken in the mark that ends a pasted text,
  all keys after it belong to that text, for ever: the screen looks frozen.
- Escape characters in a pasted text end in keys pressed, which may withdraw an entry or stop an
  inspection.
- Bytes that are no UTF-8, as a terminal of another encoding sends them, end the whole screen.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator

from textual._xterm_parser import BRACKETED_PASTE_END, BRACKETED_PASTE_START, XTermParser
from textual.drivers import linux_driver
from textual.message import Message

PASTE_TICKS = 20
"""So many times nothing came for 0.1 s within a pasted text: its end is lost, and it ends here."""
LONGEST = 100_000
"""Characters of a pasted text that are kept."""

_KEPT = "\n\r\t"


class SteadyKeys(XTermParser):
    """The toolkit's reader, given pasted texts whole and harmless, and never out of patience too soon.

    Args:
        debug: write a protocol, as the toolkit does.
    """

    def __init__(self, debug: bool = False) -> None:
        super().__init__(debug)
        self._pasted: str | None = None
        self._last = ""
        self._ticks = 0

    def feed(self, data: str) -> Iterable[Message]:
        """What came in, as keys and pasted texts; nothing at the end of all input."""
        self._ticks = 0
        known = "".join(self._sorted(data)) if data else ""
        if known or not data:
            yield from super().feed(known)

    def tick(self) -> Iterable[Message]:
        """Called about ten times a second, and after each piece that came in, when it is too soon to
        say that nothing follows.
        """
        self._ticks += 1
        if self._pasted is not None:
            if self._ticks > PASTE_TICKS:
                yield from super().feed(self._end_of_paste(self._pasted))
        elif self._ticks > 1:
            given_up = list(super().tick())
            self._last = "" if given_up else self._last
            yield from given_up

    def _sorted(self, data: str) -> Iterator[str]:
        """What the toolkit may see now: all but a pasted text that has not ended."""
        while data:
            if self._pasted is None:
                shown, data = self._until_paste(data)
                yield shown
            else:
                text, ended, rest = (self._pasted + data).partition(BRACKETED_PASTE_END)
                if not ended:
                    self._pasted = _cut(text)
                    return
                yield self._end_of_paste(text)
                data = rest

    def _until_paste(self, data: str) -> tuple[str, str]:
        """Up to the mark that begins a pasted text, which may have begun in the piece before."""
        before = len(self._last)
        found = (self._last + data).find(BRACKETED_PASTE_START)
        if found < 0:
            self._last = (self._last + data)[1 - len(BRACKETED_PASTE_START) :]
            return data, ""
        self._last, self._pasted = "", ""
        end = found + len(BRACKETED_PASTE_START) - before
        return data[:end], data[end:]

    def _end_of_paste(self, text: str) -> str:
        self._pasted = None
        return harmless(text[:LONGEST]) + BRACKETED_PASTE_END


def _cut(text: str) -> str:
    """No more than is kept, and the last characters, in which the end may have begun."""
    ending = 1 - len(BRACKETED_PASTE_END)
    return text if len(text) <= LONGEST else text[: LONGEST + ending] + text[ending:]


def harmless(text: str) -> str:
    """Without control characters, but for ends of lines and tabs."""
    return "".join(c for c in text if c in _KEPT or unicodedata.category(c) != "Cc")


class SteadyDriver(linux_driver.LinuxDriver):
    """The toolkit's terminal for everything but Windows, which goes on reading whatever came in."""

    def run_input_thread(self) -> None:
        """Read until the screen closes; what cannot be decoded is left out."""
        while not self.exit_event.is_set():
            try:
                super().run_input_thread()
            except (ValueError, OverflowError):  # no UTF-8, or a key with a number that is none
                continue


vars(linux_driver)["XTermParser"] = SteadyKeys  # the driver makes its reader by this name
