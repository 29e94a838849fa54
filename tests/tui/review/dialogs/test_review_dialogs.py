"""What holds for every dialog: Escape, harmless text, contrast, focus, keys told, small windows."""

from __future__ import annotations

from collections.abc import Callable
from time import sleep
from typing import Any

import pytest

from voicelog.domain.entry import Kind
from voicelog.errors import UsageFault
from voicelog.review.sieve import Sieve
from voicelog.tui.review.alternatives_dialog import AlternativeRow, AlternativesDialog
from voicelog.tui.review.choices import Listed, among, listed, not_listed
from voicelog.tui.review.dialog import Dialog
from voicelog.tui.review.filter_dialog import FilterDialog
from voicelog.tui.review.learn_dialog import LearnDialog
from voicelog.tui.review.open_dialog import OpenDialog
from voicelog.tui.review.place_dialog import PlaceDialog
from voicelog.tui.review.reason_dialog import ReasonDialog
from voicelog.tui.review.sentence_dialog import SentenceDialog
from voicelog.tui.review.sign_dialog import SignDialog
from voicelog.tui.review.slot_dialog import SlotDialog, SlotRow
from voicelog.tui.review.value_dialog import ValueDialog
from voicelog.tui.review.waiting_dialog import WaitingDialog

SIZES = [(80, 24), (160, 50)]


def _refuse(text: str) -> Any:
    raise UsageFault(f"{text} is nothing", "Type something else")


def sleep_until(stopped: Callable[[], bool]) -> None:
    """Work that ends once nobody waits for it."""
    while not stopped():
        sleep(0.01)


def _make(name: str, text: str, stand: Any) -> Dialog[Any]:
    """The dialog of that name with this text wherever text from outside can stand."""
    many = [f"{n} {text}" for n in range(20)]
    choose = among([Listed("v", f"{text} {n}", (text,)) for n in range(30)])
    entry = stand.entry(id=text, text=text, reason=text, kind=Kind.NOT_SEEN)
    made: dict[str, Callable[[], Dialog[Any]]] = {
        "slot": lambda: SlotDialog(entry, [SlotRow("zone", text, text), SlotRow("side", text)]),
        "value": lambda: ValueDialog("zone", text, text, choose, lambda t: not_listed(text, t)),
        "number": lambda: ValueDialog("size_mm", text, text, None, lambda _: _refuse(text)),
        "words": lambda: ValueDialog("landmark", text, text, None, lambda _: text),
        "sentence": lambda: SentenceDialog(
            text, text, text=text, trouble=text, preview=lambda _: many, wait_s=0.01
        ),
        "waiting": lambda: WaitingDialog(text, text, lambda _, stopped: sleep_until(stopped)),
        "open": lambda: OpenDialog(many),
        "reason": lambda: ReasonDialog(text, text),
        "alternatives": lambda: AlternativesDialog(
            [AlternativeRow(text, text, grade) for grade in ("unsafe", "repair", text)]
        ),
        "learn": lambda: LearnDialog(text, text, many),
        "learn-refused": lambda: LearnDialog(text, text, many, text),
        "sign": lambda: SignDialog(text, many, [text, text]),
        "sign-nothing-open": lambda: SignDialog("", [], [text]),
        "filter": lambda: FilterDialog(Sieve(zone=text, text=text), choose, told=lambda _: text),
        "place": lambda: PlaceDialog(many, {"zone": choose, "side": among(listed(["left"]))}),
    }
    return made[name]()


NAMES = [
    "slot", "value", "number", "words", "sentence", "reason", "alternatives", "learn",
    "learn-refused", "sign", "sign-nothing-open", "filter", "place", "open", "waiting",
]  # fmt: skip


REFUSING = ("number", "reason", "sign", "sign-nothing-open", "place")
"""Where Enter says that something is missing."""


@pytest.mark.asyncio
@pytest.mark.parametrize("name", NAMES)
async def test_escape_leaves_without_a_result(stand: Any, name: str) -> None:
    """Whatever was typed or marked before; and only this dialog is left."""
    host = stand.host(_make(name, "a rail", stand))
    async with host.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press("0", "down", "j", "escape", "escape")
        await pilot.pause()
        assert host.answer is None
        assert len(host.screen_stack) == 1


@pytest.mark.asyncio
@pytest.mark.parametrize("name", NAMES)
async def test_hostile_text_is_inert(stand: Any, name: str) -> None:
    """Markup is shown as it stands; control and direction marks are question marks."""
    host = await stand.ask(_make(name, stand.HOSTILE, stand), "0", "down")
    assert not {"\x1b", "\u202e"} & set(host.text)
    assert "[red]bold[/red] ?[31m?evil[/]" in host.text
    assert host.text.count("[31m") == host.text.count("?[31m")


@pytest.mark.asyncio
@pytest.mark.parametrize("theme", ["dark", "light"])
@pytest.mark.parametrize("name", NAMES)
async def test_everything_drawn_stands_out(stand: Any, weak: Any, name: str, theme: str) -> None:
    """7:1 at least: untouched, with something wrong, with a row marked, in both sizes."""
    host = stand.host(_make(name, "a rail", stand), theme)
    async with host.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        assert weak(host) == {}
        await pilot.press("0", "down", "shift+home")
        await pilot.pause()
        assert weak(host) == {}
        if name in REFUSING:
            await pilot.press("ctrl+u", "enter")
        await pilot.pause()
        assert weak(host) == {}
        await pilot.resize_terminal(*SIZES[1])
        await pilot.pause()
        assert weak(host) == {}


@pytest.mark.asyncio
@pytest.mark.parametrize("name", [name for name in NAMES if name != "waiting"])
async def test_frame_keys_and_focus_are_seen(stand: Any, name: str) -> None:
    """With twenty lines of everything, in both sizes: the whole frame, the focus, the keys.

    The frame of what has the focus is heavier than any other, so that no colour is needed.
    """
    host = stand.host(_make(name, "a rail", stand))
    async with host.run_test(size=SIZES[1]) as pilot:
        await pilot.pause()
        _check_fit(host, stand.text_of(host))
        await pilot.resize_terminal(*SIZES[0])
        if name in REFUSING:
            await pilot.press("enter")
        await pilot.pause()
        _check_fit(host, stand.text_of(host))


def _check_fit(host: Any, text: str) -> None:
    assert "Enter" in text
    assert "Esc leaves" in text
    frame = host.screen.query_one(".dialog-frame")
    assert frame.max_scroll_y == 0, "the dialog is taller than the screen"
    assert host.screen.region.contains_region(host.focused.region)
    assert text.count("┏") == 1


@pytest.mark.asyncio
async def test_a_second_enter_does_not_reach_what_lies_below(stand: Any) -> None:
    """A key that bounces signs once, and closes one screen."""
    host = stand.host(SignDialog("A. Tester", [], []))
    async with host.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        dialog = host.screen
        dialog.action_take()
        dialog.action_take()
        dialog.action_leave()
        await pilot.pause()
        assert host.answer.by == "A. Tester"
        assert len(host.screen_stack) == 1


@pytest.mark.asyncio
async def test_what_is_pasted_is_made_harmless(stand: Any) -> None:
    """Before it is drawn, and before it is handed on."""
    host = stand.host(ReasonDialog("Why?"))
    async with host.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        host.screen.query_one("#why").insert_text_at_cursor("wet\x1b[2J\u202e")
        await pilot.press("enter")
        await pilot.pause()
        assert host.answer == "wet?[2J?"
