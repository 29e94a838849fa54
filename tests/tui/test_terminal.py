"""Nothing but the screen is seen while it is up."""

from __future__ import annotations

import subprocess
import sys
from types import SimpleNamespace

import pytest

from voicelog.tui.terminal import can_draw

CODE = """
import os, sys
vars(os).pop("pread", None)  # as on Windows
from voicelog.tui.terminal import to_ourselves
try:
    with to_ourselves() as aside:
        os.write(2, b"a sound library\\n")
        print("another", file=sys.stderr)
        print("the screen", file=sys.__stderr__, flush=True)
        aside()
        os.write(2, b"and more\\n")
        said = aside()
        raise KeyError
except KeyError:
    pass
print("afterwards:", *said.split(), file=sys.stderr)
"""


def test_only_the_screen_is_seen_and_all_is_put_back() -> None:
    """Also when the app ends by a fault."""
    done = subprocess.run(
        [sys.executable, "-u", "-c", CODE], capture_output=True, text=True, check=True
    )
    assert done.stderr.splitlines() == [
        "the screen",
        "afterwards: a sound library another and more",
    ]


@pytest.mark.parametrize(
    ("term", "terminals", "drawn"),
    [("xterm-256color", 3, True), ("", 3, True), ("dumb", 3, False), ("xterm", 2, False)],
)
def test_a_screen_is_drawn_only_where_it_can_be_seen(
    monkeypatch: pytest.MonkeyPatch, term: str, terminals: int, *, drawn: bool
) -> None:
    """Not into a pipe, and not in a terminal that cannot move its cursor: lines are printed there."""
    monkeypatch.setenv("TERM", term)
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        monkeypatch.setattr(sys, name, SimpleNamespace(isatty=lambda n=number: n < terminals))
    assert can_draw() is drawn
