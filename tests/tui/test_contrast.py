"""Every character that is drawn stands out 7:1 against its ground, in both themes.

The ratio is that of the Web Content Accessibility Guidelines 2.2 (W3C), "relative luminance" and
"contrast ratio"; 7:1 is what success criterion 1.4.6, enhanced contrast, asks for.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from rich.segment import Segment
from textual.widgets import OptionList

from voicelog.domain.signal import Signal
from voicelog.runtime.messages import (
    AnswerAwaited,
    Level,
    Noticed,
    Partial,
    State,
    StateChanged,
    Told,
)
from voicelog.tui.themes import themes

LEAST = 7.0
Colour = tuple[int, int, int]


def luminance(colour: Colour) -> float:
    """Relative luminance of an sRGB colour, 0 to 1 (WCAG 2.2)."""
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (channel / 255 for channel in colour)
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: Colour, other: Colour) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.2)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ((0, 0, 0), (255, 255, 255), 21.0),
        ((255, 255, 255), (255, 255, 255), 1.0),
        ((118, 118, 118), (255, 255, 255), 4.54),
        ((89, 89, 89), (255, 255, 255), 7.0),
    ],
)
def test_the_formula_gives_published_ratios(one: Colour, other: Colour, ratio: float) -> None:
    """Black on white is 21:1; #767676 and #595959 are the lightest greys on white at AA and AAA."""
    assert contrast(one, other) == pytest.approx(ratio, abs=0.01)


@pytest.mark.parametrize("theme", themes(), ids=lambda theme: theme.name)
def test_every_pair_of_the_themes(theme: Any) -> None:
    """Tones with their inks, and the pairs that Textual's own widgets use."""
    colours = theme.to_color_system().generate() | theme.variables
    pairs = [(name, f"{name}-ink") for name in colours if re.fullmatch(r"tone-\w+", name)]
    assert len(pairs) > 10
    grounds = ("background", "surface", "panel")
    pairs += [(ground, ink) for ground in grounds for ink in ("foreground", "accent", "text-muted")]
    pairs += [
        (f"{name}-background", f"{name}-foreground")
        for name in (
            "block-cursor", "block-cursor-blurred", "input-cursor", "input-selection", "footer",
            "screen-selection",
        )
    ]  # fmt: skip
    weak = {pair: _hex_contrast(*map(colours.get, pair)) for pair in pairs}
    assert {pair: ratio for pair, ratio in weak.items() if ratio < LEAST} == {}


def _hex_contrast(one: str, other: str) -> float:
    return contrast(_rgb(one), _rgb(other))


def _rgb(text: str) -> Colour:
    return int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16)


def _drawn(app: Any) -> Iterator[Segment]:
    """Every piece of text on the screen, with the colours the terminal gets."""
    for strip in app.screen._compositor.render_strips():
        yield from (segment for segment in strip if segment.text.strip())


def _weak(app: Any) -> dict[tuple[str, Colour, Colour], float]:
    found = {}
    for text, style, _ in _drawn(app):
        assert not style.dim, f"{text!r} is dimmed"
        ink, ground = style.color.triplet, style.bgcolor.triplet
        ratio = contrast(tuple(ink), tuple(ground))
        if ratio < LEAST:
            found[text[:20], tuple(ink), tuple(ground)] = round(ratio, 2)
    return found


QUESTION = Told(Signal.QUESTION, "Left rear rail, hole. Affirm?", question=True, for_s=8.0)
LOUD = (Level(-1.0, -20.0, clipped=True), Noticed("sound was lost", serious=True))
SCENES: dict[str, tuple[Callable[[Any], list[Any]], tuple[str, ...]]] = {
    "nothing-yet": (lambda _: [], ()),
    "under-way": (lambda stage: [*stage.story(), Partial("left"), Noticed("a notice")], ()),
    "alarm": (lambda stage: [*stage.story(), StateChanged(State.NO_MICROPHONE), *LOUD], ()),
    "question": (lambda stage: [*stage.story(), QUESTION], ()),
    "countdown": (lambda stage: [*stage.story(), QUESTION, AnswerAwaited(8.0)], ()),
    "cautions": (lambda stage: [stage.opened(), StateChanged(State.CAUTIONS)], ()),
    "list": (lambda stage: list(stage.story()), ("tab", "down", "down")),
    "plan": (lambda stage: list(stage.story()), ("v",)),
    "typing": (lambda stage: list(stage.story()), ("t", "h", "o")),
    "typing-nothing": (lambda stage: list(stage.story()), ("t",)),
    "typing-selected": (lambda stage: list(stage.story()), ("t", "h", "o", "shift+home")),
    "help": (lambda stage: list(stage.story()), ("f1",)),
    "palette": (lambda stage: list(stage.story()), ("ctrl+p", "down")),
    "palette-search": (lambda stage: list(stage.story()), ("ctrl+p", "s", "a", "y")),
}


@pytest.mark.asyncio
@pytest.mark.parametrize("theme", ["dark", "light"])
@pytest.mark.parametrize("scene", SCENES)
async def test_everything_drawn_stands_out(stage: Any, scene: str, theme: str) -> None:
    """Letters, signs, borders and bars alike, in the small window and on the wall."""
    told, keys = SCENES[scene]
    app = stage.app(theme=theme)
    async with app.run_test(size=(80, 24)) as pilot:
        stage.say(*told(stage))
        await pilot.pause()
        await pilot.press(*keys)
        await pilot.pause(0.2 if "palette" in scene else None)
        assert _weak(app) == {}
        await pilot.resize_terminal(200, 60)
        await pilot.pause(0.2 if "palette" in scene else None)
        assert _weak(app) == {}


@pytest.mark.asyncio
@pytest.mark.parametrize("theme", ["dark", "light"])
async def test_every_state_stands_out(stage: Any, theme: str) -> None:
    """The largest letters of all."""
    app = stage.app(theme=theme)
    async with app.run_test(size=(80, 24)) as pilot:
        stage.say(stage.opened(()))
        for state in State:
            stage.say(StateChanged(state))
            await pilot.pause()
            assert _weak(app) == {}, state


@pytest.mark.asyncio
async def test_what_lies_under_the_mouse_stands_out(stage: Any) -> None:
    """An entry of the list, and a key at the foot."""
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(*stage.story())
        await pilot.pause()
        for where in (OptionList, "FooterKey"):
            await pilot.hover(where, offset=(2, 1) if where is OptionList else (1, 0))
            await pilot.pause()
            assert _weak(app) == {}


@pytest.mark.asyncio
async def test_without_colours_nothing_is_lost(stage: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """With NO_COLOR set no colour reaches the terminal; state, grade and pick can still be told."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = stage.app()
    async with app.run_test(size=(120, 40)) as pilot:
        stage.say(*stage.story("left front rail scale", "fuel line rust", "tow hitch rust"))
        await pilot.press("tab", "down", "down")
        pieces = list(_drawn(app))
        assert all(_is_colourless(style) for _, style, _ in pieces)
        text = "".join(text for text, _, _ in pieces)
        assert "# REPAIR" in text
        grounds = {t: style.bgcolor for t, style, _ in pieces if t in ("fuel line", "tow hitch")}
        assert grounds["fuel line"] != grounds["tow hitch"]


def _is_colourless(style: Any) -> bool:
    """No colour at all, or grey."""
    colours = [colour for colour in (style.color, style.bgcolor) if colour is not None]
    return all(c.triplet is None or len(set(c.triplet)) == 1 for c in colours)
