"""The catalogue of all texts for people, made from the program: ``voicelog/locale/voicelog.pot``.

``python tests/catalogue/extract.py`` prints it, ``--write`` puts it into the checkout. Needs Babel (the
extra ``test``).
"""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from contextlib import redirect_stderr
from datetime import UTC, datetime
from functools import cache
from inspect import unwrap
from pathlib import Path

import click
from babel.messages import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.pofile import write_po

from voicelog.cli.helps import AS_IT_STANDS, paragraphs
from voicelog.cli.main import cli

ROOT = Path(__file__).parents[2]
PROGRAM = ROOT / "voicelog"
POT = PROGRAM / "locale" / "voicelog.pot"
KEYWORDS = {"worded": None, "to_word": None, "worded_many": (1, 2), "counted": (2, 3)}
"""What marks a text: the functions of ``voicelog/tongue.py``, the report's own :func:`counted`, and which of their arguments it is."""

OF_CLICK = (
    "Usage:", "Options", "Commands", "Show this message and exit.", "Aborted!", "default: {default}",
    ("Did you mean {possibility}?", "(Did you mean one of: {possibilities}?)"), "Missing argument", "Missing option",
    "Missing command.", "Invalid value: {message}", "Invalid value for {param_hint}: {message}",
    "No such option {name!r}.", "No such command {name!r}.", "Option {name!r} does not take a value.",
    ("Option {name!r} requires an argument.", "Option {name!r} requires {nargs} arguments."),
    ("Got unexpected extra argument ({args})", "Got unexpected extra arguments ({args})"),
    ("{value!r} is not {choice}.", "{value!r} is not one of {choices}."), "{value!r} is not a valid {number_type}.",
    "{value} is not in the range {range}.", "{name} {filename!r} does not exist.", "file", "directory", "path",
)  # fmt: skip
"""Words that click says of itself (8.5), and looks up in the same catalogue."""

CLICK = "click"
"""The file where they are said to stand."""

WIDTH = 100
HEAD = """\
# The texts of voicelog for people, in English: what a translation starts from.
# Made by: python tests/catalogue/extract.py --write"""


@cache
def extracted() -> Catalog:
    """Every text once, with the files that have it, in the order of their names."""
    # A date of its own would make every catalogue another.
    catalog = Catalog(
        project="voicelog", version="0", header_comment=HEAD, creation_date=datetime(2026, 11, 26, tzinfo=UTC)
    )  # fmt: skip
    for path in sorted(PROGRAM.rglob("*.py")):
        if not any(mark in path.read_bytes() for mark in (b"worded", b"to_word")):
            continue
        with redirect_stderr(io.StringIO()):  # Babel warns of f-strings among the values
            found = list(extract_from_file("python", path, keywords=KEYWORDS))
        where = path.relative_to(ROOT).as_posix()
        for line, text, *_ in found:
            catalog.add(text, locations=[(where, line)])
    for path in sorted((PROGRAM / "export").rglob("*.html")):
        where = path.relative_to(ROOT).as_posix()
        for line, text, *_ in extract_from_file("jinja2", path):
            catalog.add(text, locations=[(where, line)])
    for where, text in (*_helps(), *((CLICK, text) for text in OF_CLICK)):
        catalog.add(text, locations=[(where, 1)])
    return catalog


def _helps() -> Iterator[tuple[str, str]]:
    """What every command's help says, with the file that has it."""
    waiting = [click.Context(cli)]
    for context in waiting:
        where = _file_of(context.command)
        group = context.command
        told = (one for one in paragraphs(group.help) if not one.startswith(AS_IT_STANDS))
        options = (one for one in group.params if isinstance(one, click.Option))
        yield from ((where, text) for text in (*told, *(one.help for one in options if one.help)))
        for name in group.list_commands(context) if isinstance(group, click.Group) else ():
            inner = group.get_command(context, name)
            waiting += [] if inner is None else [click.Context(inner, parent=context)]


def _file_of(command: click.Command) -> str:
    path = unwrap(command.callback).__code__.co_filename if command.callback else str(PROGRAM)
    return Path(path).resolve().relative_to(ROOT.resolve()).as_posix()


def as_file(catalog: Catalog) -> bytes:
    """The catalogue as it lies in the checkout: no line numbers, which every edit would change."""
    file = io.BytesIO()
    write_po(file, catalog, width=WIDTH, include_lineno=False)
    lines = file.getvalue().splitlines(keepends=True)
    return b"".join(line for line in lines if not line.startswith(b'"Generated-By'))


def main() -> None:
    """Print it, or put it into the checkout."""
    made = as_file(extracted())
    if "--write" in sys.argv[1:]:
        POT.write_bytes(made)
    else:
        sys.stdout.write(made.decode())


if __name__ == "__main__":
    main()
