"""One word for one thing: every word of the glossary is used, and what it replaces is not."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import click

from voicelog.cli.main import cli
from voicelog.cli.topics import GUIDE, topics

ROOT = Path(__file__).parents[3]
SOURCES = sorted((ROOT / "voicelog").rglob("*.py"))
SPOKEN = [*sorted((ROOT / "grammar").glob("*/*.toml"))]
FORMS = [
    *sorted((ROOT / "voicelog" / "export").rglob("*.typ")),
    *sorted((ROOT / "voicelog" / "export").rglob("*.html")),
]
ROWS = re.findall(
    r"^\| ([^|]+?) \| ([^|]+?) \| ([^|]*?) *\|$", topics()["glossary"].text, flags=re.M
)
TERMS = [(word, not_called) for word, _, not_called in ROWS if word not in ("word", "---")]


def _helps(group: click.Group, context: click.Context) -> Iterator[str]:
    """What every command says of itself."""
    yield group.get_help(context)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        inner = click.Context(command, info_name=name, parent=context)
        yield from (
            _helps(command, inner)
            if isinstance(command, click.Group)
            else [command.get_help(inner)]
        )


def _messages() -> Iterator[str]:
    """Every text that is raised or printed: the strings of calls, docstrings left out."""
    for source in SOURCES:
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                inner = (part for arg in node.args for part in ast.walk(arg))
                yield from (
                    p.value
                    for p in inner
                    if isinstance(p, ast.Constant) and isinstance(p.value, str)
                )


def _shown() -> str:
    """All that a person reads: README, guide, help, messages; the glossary's own last column apart."""
    pages = [ROOT / "README.md", *(page for page in GUIDE.glob("*.md") if page.stem != "glossary")]
    texts = [page.read_text(encoding="utf-8") for page in (*pages, *FORMS)]
    root = click.Context(cli, info_name="voicelog")
    return " ".join("\n".join((*texts, *_helps(cli, root), *_messages())).lower().split())


SHOWN = _shown()
SAID = " ".join(path.read_text(encoding="utf-8") for path in SPOKEN).lower()
"""What people say has many names; only what the program itself shows has one."""


def test_the_glossary_has_words_of_both_kinds() -> None:
    """Program and trade; the table is read as it is meant."""
    words = [word for word, _ in TERMS]
    assert {"entry", "ear", "seal", "outrigger", "hole"} <= set(words)
    assert len(words) == len(set(words)) > 40


def test_every_word_is_used_somewhere() -> None:
    """A word that nobody ever reads needs no explanation."""
    idle = [
        word for word, _ in TERMS if not re.search(rf"\b{re.escape(word.lower())}", SHOWN + SAID)
    ]
    assert not idle


def test_no_other_name_is_used_for_it() -> None:
    """README, guide, help and messages keep to the glossary."""
    others = [(word, other) for word, names in TERMS for other in names.split(", ") if other]
    assert len(others) > 30
    used = [
        (word, other)
        for word, other in others
        if re.search(rf"\b{re.escape(other.lower())}s?\b", SHOWN)
    ]
    assert not used
