"""What commands print fits any terminal: no line wider than it, no word cut, nothing left out."""

from __future__ import annotations

import io
import re
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from voicelog.cli.main import _LAZY, run
from voicelog.cli.paragraphs import columns, hang, hung
from voicelog.config.settings import Settings
from voicelog.runtime.opening import open_reading
from voicelog.runtime.review import Review

SAID = (
    "left front rail, surface rust, metal is firm", "left sill, hole about 25 millimetres, took a photo",
    "right rear spring hanger, scale, probed, firm", "rear cross member might be a crack",
    "mm, left control arm mount hole, about an inch, no solid metal around it",
    "can't see inside the left kick up, the spare wheel is in the way of everything there",
    "the owner said it was launched at the beach every weekend for eleven winters in a row",
)  # fmt: skip
SHOWN = (
    "review LOG --plain", "review LOG --plain --entry e2.1", "why LOG", "why LOG --all",
    "why LOG e2.1 --region uk", "work LOG", "vehicle LOG", "sign LOG --list", "verify LOG", "photos LOG",
    "list FOLDER", "compare LOG LOG", "erase LOG --all --dry-run", "erase LOG --all-sound --dry-run",
    "amend LOG --entry e2.1 --set side=left --dry-run", "relisten LOG --words-only",
    "recover LOG --dry-run", "export LOG", "sounds --voice none", "doctor", "doctor --licences",
    "model list", "words learned", "help", "help glossary", "read hole,|left|sill",
    "--version", "measure FOLDER", "why LOG e99.9", "verify FOLDER",
)  # fmt: skip
NOT_SHOWN = {
    "start", "demo", "hear", "warm-up",  # they listen; what they print, read and review print too
    "completion", "manual",  # for a shell, and for man
}  # fmt: skip
WIDTHS = {"export LOG": (), "help glossary": (60, 80, 200)}
"""Data, which no terminal is asked about; a table of three columns of prose."""

LEAST_WORD = 20
"""Characters for which there is always room, however far in a line goes on."""

_STYLE = re.compile(r"\x1b\[\?*[0-9;]*[A-JL-Za-z]")


class Stream(io.TextIOWrapper):
    """Standard output, in a terminal or not."""

    def __init__(self, *, looked_at: bool) -> None:
        super().__init__(io.BytesIO(), encoding="utf-8")
        self._looked_at = looked_at

    def isatty(self) -> bool:
        """Whether somebody looks at it."""
        return self._looked_at

    @property
    def text(self) -> str:
        """What came out, without colours."""
        self.flush()
        assert isinstance(self.buffer, io.BytesIO)
        return _STYLE.sub("", self.buffer.getvalue().decode())


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An inspection that has a bit of everything, signed and changed since."""
    parent = tmp_path_factory.mktemp("logs")
    with open_reading(Settings(into=parent), keep=True, subject="pickup 12") as session:
        for number, text in enumerate(SAID):
            session.read(text, at_s=5.0 * number)
        session.close("finished")
        assert session.folder is not None
    with Review.open(session.folder, Settings(), by="Sam") as review:
        review.sign(why="there was no borescope to look into anything with")
        review.correct("e2.1", {"side": "right"}, why="seen again")
    return session.folder


def shown(
    line: str, log: Path, monkeypatch: pytest.MonkeyPatch, *, width: int | None = None
) -> list[str]:
    """The lines that a command prints, on both streams."""
    words = [word.replace("|", " ") for word in line.split(" ")]
    places = {"LOG": str(log), "FOLDER": str(log.parent)}
    streams = [Stream(looked_at=width is not None) for _ in range(2)]
    with monkeypatch.context() as terminal:
        terminal.setenv("TERM", "xterm")
        terminal.delenv("COLUMNS", raising=False)
        if width is not None:
            terminal.setenv("COLUMNS", str(width))
        terminal.setattr(sys, "stdout", streams[0])
        terminal.setattr(sys, "stderr", streams[1])
        try:
            run([places.get(word, word) for word in words])
        except SystemExit as left:
            assert left.code in (None, 0, 2, 3, 5), streams[1].text  # noqa: PT017
        lines = "".join(stream.text for stream in streams).splitlines()
        return [one for one in lines if "\x1b[2K" not in one]  # how far it is, drawn over itself


def _needs_more(line: str, width: int) -> bool:
    """Its last word is longer than what is left beside any beginning."""
    return columns(line.split()[-1]) > min(width, LEAST_WORD)


def words_of(lines: Sequence[str]) -> list[str]:
    """All words in the order of their letters, without what only parts them: tables have their own."""
    return sorted(word for line in lines for word in line.split() if set(word) - set("-·─━"))


@pytest.mark.parametrize("line", SHOWN)
def test_nothing_is_wider_than_the_terminal_and_no_word_is_cut(
    line: str, log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The words are those of a pipe, and only a word by itself, such as a path, may stand out."""
    piped = words_of(shown(line, log, monkeypatch))
    assert piped
    for width in WIDTHS.get(line, (40, 60, 80, 200)):
        lines = shown(line, log, monkeypatch, width=width)
        too_wide = [one for one in lines if columns(one) > width and not _needs_more(one, width)]
        assert not too_wide, (width, too_wide)
        assert words_of(lines) == piped, width


def test_every_command_is_tried() -> None:
    """A new one has to be entered here, or among those that print nothing of their own."""
    tried = {line.split(" ")[0] for line in SHOWN}
    assert {name for name in _LAZY if name not in tried} == NOT_SHOWN


@pytest.mark.parametrize(
    ("line", "into"),
    [
        ("prose that begins at the left: it goes on there", 0), ("  - an item: with a name", 4),
        ("      e12.1: Left rail — hole", 13), ("To sign:           voicelog sign last", 19), ("  Nobody looked inside: sill", 4),
        ("            by rule hole-through", 14), ("   3. a number", 6), ("", 0), ("    ", 6),
    ],
)  # fmt: skip
def test_what_goes_on_stands_below_what_it_belongs_to(line: str, into: int) -> None:
    """Behind a mark or a name, else a little further in than it began."""
    assert hang(line, 80) == into


def test_lines_are_broken_between_words_only() -> None:
    """Wide characters count twice; a word longer than the line stays whole; nothing is lost."""
    wide = "検査検査 検査検査 検査検査"
    assert list(hung(f"  - {wide}", 30)) == [f"  - {wide}"]
    assert list(hung(f"  - {wide}", 29)) == ["  - 検査検査 検査検査", "    検査検査"]
    assert list(hung("a " + "b" * 30 + " c", 10)) == ["a " + "b" * 30, "c"]
    assert list(hung("     " + "b" * 30, 10)) == ["     " + "b" * 30]
