"""The guide's topics: Markdown beside the program, listed in the order of its own first page."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from voicelog.errors import InputFault
from voicelog.tongue import worded

GUIDE = Path(__file__).resolve().parents[1] / "guide"
"""Holds a file for each topic, pictures apart."""

FIRST_PAGE = "README.md"
"""Lists the topics: ``- [name](name.md): what it tells``. A topic that is not there is none."""

_LISTED = re.compile(r"^- \[([a-z-]+)\]\(\1\.md\): (.+)$", re.MULTILINE)
_PICTURE = re.compile(r"!\[([^\]]*)\]\([^)]*\)")
_TOPIC = re.compile(r"\[([^\]]+)\]\(([a-z-]+)\.md(?:#[^)]*)?\)")
_ELSEWHERE = re.compile(r"\[([^\]]+)\]\(((?!#)[^)]+)\)")
_HERE = re.compile(r"\[([^\]]+)\]\(#[^)]+\)")
_COMMENT = re.compile(r"<!--.*?-->\n?", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Topic:
    """One topic.

    Args:
        name: what one asks for.
        does: what it tells, in one line.
        path: its file.
    """

    name: str
    does: str
    path: Path

    @property
    def text(self) -> str:
        """Its Markdown."""
        return _read(self.path)


@cache
def topics() -> Mapping[str, Topic]:
    """All topics by name, in the order in which they are best read.

    Raises:
        InputFault: the installation has lost them.
    """
    listed = _LISTED.findall(_read(GUIDE / FIRST_PAGE))
    return {name: Topic(name, does, GUIDE / f"{name}.md") for name, does in listed}


def for_terminal(markdown: str) -> str:
    """The text without what a terminal cannot follow: pictures become their descriptions, links to
    topics the command that shows them, other links their address.
    """
    text = _COMMENT.sub("", markdown)
    text = _PICTURE.sub(lambda found: f"*Picture: {found[1]}.*", text)
    text = _TOPIC.sub(lambda found: _called(found[1], found[2]), text)
    text = _HERE.sub(lambda found: found[1], text)
    return _ELSEWHERE.sub(lambda found: _elsewhere(found[1], _address(found[2])), text)


def _called(shown: str, name: str) -> str:
    """A topic with the command that shows it; in a list of topics its name is enough."""
    return f"`{name}`" if shown == name else f"{shown} (`voicelog help {name}`)"


def _elsewhere(shown: str, address: str) -> str:
    return shown if shown == address else f"{shown} ({address})"


def _address(target: str) -> str:
    """Where a link leads; of a file of the project its name there."""
    return re.sub(r"^(?:\.\./)+", "", target)


def _read(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except OSError as fault:
        raise InputFault(
            worded("The guide that belongs to voicelog is missing {path}", path=repr(path.name)),
            worded("Install voicelog again"),
        ) from fault
