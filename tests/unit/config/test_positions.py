"""Lines of keys, found without the parser's help."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.positions import Loc, line_of

TEXT = """\
title = "it # is = not [a] key"   # a comment with [brackets
long = \"\"\"
[[meaning]]
say = 1
\"\"\"

[[meaning]]
say = [
    "one",  # "two"
    "it's",
    'three',
]
also = { side = "left", part = "web" }

[[meaning]]   # the second
"odd key" = 2
[meaning.also]
side = "right"

[limits]
a.b = 3
"""


@pytest.mark.parametrize(
    ("loc", "line"),
    [
        (("title",), 1),
        (("long",), 2),
        (("meaning", 0), 7),
        (("meaning", 0, "say"), 8),
        (("meaning", 0, "say", 0), 9),
        (("meaning", 0, "say", 1), 10),
        (("meaning", 0, "say", 2), 11),
        (("meaning", 0, "also", "part"), 13),
        (("meaning", 1), 15),
        (("meaning", 1, "odd key"), 16),
        (("meaning", 1, "also"), 17),
        (("meaning", 1, "also", "side"), 18),
        (("limits",), 20),
        (("limits", "a", "b"), 21),
    ],
)
def test_a_key_is_found_on_its_line(loc: Loc, line: int) -> None:
    """Comments, long strings, arrays over lines and sub-tables do not mislead the count."""
    assert line_of(TEXT, loc) == line


@pytest.mark.parametrize(
    ("loc", "line"),
    [(("meaning", 0, "slot"), 7), (("meaning", 1, "say", 3), 15), (("nothing",), 1), ((), 1)],
)
def test_a_key_that_is_not_there_is_put_at_what_surrounds_it(loc: Loc, line: int) -> None:
    """A missing key is reported at the header it is missing from."""
    assert line_of(TEXT, loc) == line


def _strings(value: object, loc: Loc = ()) -> Iterator[tuple[Loc, str]]:
    """Every string of a parsed document with its way."""
    if isinstance(value, str):
        yield loc, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _strings(inner, (*loc, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _strings(inner, (*loc, number))


@pytest.mark.parametrize("path", sorted(grammar_dir().rglob("*.toml")), ids=lambda path: path.name)
def test_every_string_of_the_shipped_files_stands_on_the_line_found(path: Path) -> None:
    """Held against the standard parser: each value it reads is on the line that is named."""
    text = path.read_text(encoding="utf-8")
    lines = text.splitlines()
    found = list(_strings(tomllib.loads(text)))
    wrong = [loc for loc, value in found if value not in lines[line_of(text, loc) - 1]]
    assert found
    assert wrong == []
