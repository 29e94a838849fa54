"""No screen shows a text that is in no catalogue."""

from __future__ import annotations

import ast

import pytest

from tests.architecture.sources import trees
from tests.catalogue.screen_texts import plain_texts

ROOMS = ("voicelog.tui", "voicelog.review.sieve")
"""What people see on the screens is put together here, and what filters are called."""

EXCEPTIONS = {
    "voicelog.tui.actions": {
        "say again",
        "read back",
        "what is open",
        "stand by",
        "go ahead",
        "finish inspection",
    },
    "voicelog.tui.app": {"voicelog"},
    "voicelog.tui.review.app": {"voicelog review"},
    "voicelog.tui.review.review_help": {"↑ ↓ PgUp PgDn"},
    "voicelog.tui.terminal": {"TERM"},
}
"""Spoken words, which are those of the grammar in every language; the program's own name; names of keys; a variable."""


def test_every_text_of_the_screens_is_in_the_catalogue() -> None:
    """Labels, titles, keys, notices, questions: ``worded``, or ``to_word`` where it is a constant."""
    shown = {name: tree for name, tree in trees().items() if name.startswith(ROOMS)}
    assert len(shown) > 70
    found = [
        f"{name}:{line}: {text!r}"
        for name, tree in shown.items()
        for line, text in sorted(set(plain_texts(tree)))
        if text not in EXCEPTIONS.get(name, ())
    ]
    assert found == []


def test_no_exception_is_left_over() -> None:
    """Each still stands where it is excused."""
    for name, texts in EXCEPTIONS.items():
        assert texts <= {text for _, text in plain_texts(trees()[name])}, name


@pytest.mark.parametrize(
    ("code", "text"),
    [
        ("yield Static('Nothing')", "Nothing"),
        ("Static(Content(f'{n} open'))", " open"),
        ("frame.border_title = 'open' if some else worded('x')", "open"),
        ("class List(Widget):\n    BORDER_TITLE = 'entries'", "entries"),
        ("Binding('enter', 'take', 'takes')", "takes"),
        ("self.notify('gone')", "gone"),
        ("bench.say('gone' + name)", "gone"),
        ("super().__init__('sign')", "sign"),
        ("Input(placeholder='type')", "type"),
        ("Content.assemble(('loud', 'bold'), worded('x'))", "loud"),
        ("told = 'It is too loud'", "It is too loud"),
        ("yield 'HEARD', words", "HEARD"),
    ],
)
def test_a_plain_text_is_seen(code: str, text: str) -> None:
    """Wherever a screen takes it from."""
    assert text in {found for _, found in plain_texts(ast.parse(code))}


@pytest.mark.parametrize(
    "code",
    [
        "Binding('enter', 'take', to_word('takes it'))",
        "Binding('down', 'step(1)', 'Down a line', show=False)",
        "bench.say(worded('{entry} is gone', entry=name))",
        "Content.styled(text, 'bold $accent')",
        "Content.assemble((text, 'bold underline'))",
        "def f():\n    'What it does.'",
        "self.query_one('#keys', Static)",
    ],
)
def test_what_nobody_reads_is_left_alone(code: str) -> None:
    """Styles, names of widgets, docstrings, and keys that no line names."""
    assert list(plain_texts(ast.parse(code))) == []
