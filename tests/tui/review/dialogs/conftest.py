"""A stand for dialogs: the smallest app that can show one and keeps what it gives back."""

from __future__ import annotations

from pathlib import Path, PurePath
from typing import Any

import pytest
from textual.app import App, ComposeResult
from textual.widgets import Static

import voicelog.tui
from voicelog.domain.entry import Entry, Kind
from voicelog.errors import UsageFault
from voicelog.tui.review.choices import Listed, among
from voicelog.tui.review.dialog import Dialog
from voicelog.tui.themes import NAMES, themes

STILL_OPEN = "still open"
SMALL = (80, 24)
HOSTILE = "[red]bold[/red] \x1b[31m\u202eevil[/] \n[@click=app.quit]x[/]"
"""Markup, an escape sequence, a direction mark, a line feed, a link that would quit."""

ZONES = among(
    Listed(name.lower().replace(" ", "-"), name, said)
    for name, said in (
        ("Front frame horn", ()), ("Front rail", ("front chassis leg",)), ("Rear rail", ()),
        ("Sill", ("rocker", "sill")), ("Gearbox cross member", ("tranny crossmember",)), ("Fuel tank", ()),
        ("Rear spring hanger", ()), ("Body mount", ("body biscuit",)), ("Kick-up", ("axle arch",)),
    )
)  # fmt: skip


def millimetres(typed: str) -> str:
    """A stand-in for the reader of lengths."""
    number, _, unit = typed.partition(" ")
    if not number.replace(".", "", 1).isdigit() or unit not in ("mm", ()):
        raise UsageFault(f"“{typed}” is no length", "Type it as 4.8 mm or 3/16 in")
    return f"{float(number):g} mm"


def _sheets() -> list[str | PurePath]:
    folder = Path(voicelog.tui.__file__).parent
    return [folder / "app.tcss", *sorted(folder.glob("review/*.tcss"))]


class Host(App[None]):
    """Shows one dialog over a line of text.

    Args:
        dialog: what it shows.
        theme: ``dark`` or ``light``.
    """

    CSS_PATH = _sheets()

    def __init__(self, dialog: Dialog[Any], theme: str = "dark") -> None:
        super().__init__()
        self.dialog, self.text = dialog, ""
        self.answer: Any = STILL_OPEN
        for made in themes():
            self.register_theme(made)
        self.theme = NAMES[theme]

    def compose(self) -> ComposeResult:
        """What lies under the dialog."""
        yield Static("the review screen")

    def on_ready(self) -> None:
        """Ask."""
        self.push_screen(self.dialog, self._keep)

    def _keep(self, answer: Any) -> None:
        self.answer = answer


class Stand:
    """Shows dialogs, presses keys, and has what dialogs are about."""

    STILL_OPEN, HOSTILE = STILL_OPEN, HOSTILE
    zones = staticmethod(ZONES)
    millimetres = staticmethod(millimetres)
    host = Host

    @staticmethod
    async def ask(dialog: Dialog[Any], *keys: str, size: tuple[int, int] = SMALL) -> Host:
        """Press these keys; the host has the answer and what was drawn at the end.

        Args:
            dialog: what is asked.
            keys: names of keys, and texts with a blank before them, which are put in without it,
                all at once.
            size: columns and lines.
        """
        host = Host(dialog)
        async with host.run_test(size=size) as pilot:
            await pilot.pause()
            for key in keys:
                if key[0] == " ":
                    host.focused.insert_text_at_cursor(key[1:])  # type: ignore[union-attr]
                    await pilot.pause()
                else:
                    await pilot.press(key)
            host.text = Stand.text_of(host)
        return host

    @staticmethod
    def text_of(app: App[Any]) -> str:
        """Everything that is drawn, line by line."""
        return "\n".join(strip.text for strip in app.screen._compositor.render_strips())

    @staticmethod
    def entry(**changes: Any) -> Entry:
        """An entry as the dialogs meet it."""
        given: dict[str, Any] = {
            "id": "e12.1", "utterance": "u12", "at": "2026-03-14T09:00:00Z", "kind": Kind.FINDING,
            "slots": {"zone": "rear-rail", "side": "left", "condition": "hole", "size_mm": 25.0},
            "text": "left rear rail hole about an inch", **changes,
        }  # fmt: skip
        return Entry(**given)


@pytest.fixture
def stand() -> type[Stand]:
    """Everything a test of a dialog needs."""
    return Stand
