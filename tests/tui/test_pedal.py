"""A pedal that a terminal sees as a key: when it is down, and when it must have been let go."""

from __future__ import annotations

from itertools import pairwise

import pytest

from voicelog.runtime.messages import Action
from voicelog.tui.pedal import FIRST_REPEAT_S, NEXT_REPEAT_S, Mode, Pedal

DOWN, UP = Action.PEDAL_DOWN, Action.PEDAL_UP


def test_a_short_press_is_let_go_when_no_repeat_comes() -> None:
    """Until the first repeat is overdue, the key may still be down."""
    pedal = Pedal(Mode.HOLD)
    assert pedal.press(10.0) == (DOWN,)
    assert pedal.wait(10.0 + FIRST_REPEAT_S) == ()
    assert pedal.wait(10.01 + FIRST_REPEAT_S) == (UP,)
    assert pedal.wait(20.0) == ()


def test_a_long_press_lasts_as_long_as_its_repeats() -> None:
    """Repeats keep it down; it is up a quarter of a second after the last."""
    pedal = Pedal(Mode.HOLD)
    pedal.press(0.0)
    for tenth in range(5, 50):
        assert pedal.press(tenth / 10) == ()
        assert pedal.wait(tenth / 10 + 0.05) == ()
    assert pedal.wait(4.9 + NEXT_REPEAT_S + 0.01) == (UP,)


def test_a_press_after_a_release_nobody_waited_for_tells_both() -> None:
    """Where the clock of the screen was late, no release is swallowed."""
    pedal = Pedal(Mode.HOLD)
    pedal.press(0.0)
    assert pedal.press(5.0) == (UP, DOWN)


def test_it_is_watched_only_while_time_can_let_it_go() -> None:
    """The screen need not look twenty times a second at a pedal that is up."""
    pedal = Pedal(Mode.HOLD)
    assert not pedal.watching
    pedal.press(0.0)
    assert pedal.watching
    pedal.wait(9.0)
    assert not pedal.watching
    toggle = Pedal(Mode.TOGGLE)
    toggle.press(0.0)
    assert not toggle.watching


def test_toggled_it_changes_with_every_press_but_not_with_repeats() -> None:
    """A foot that rests on the pedal makes one press."""
    pedal = Pedal(Mode.TOGGLE)
    assert pedal.press(0.0) == (DOWN,)
    assert pedal.press(0.5) == pedal.press(0.6) == pedal.press(0.7) == ()
    assert pedal.press(3.0) == (UP,)
    assert pedal.press(6.0) == (DOWN,)


def test_hands_free_a_press_cuts_in_once() -> None:
    """Down and up at once: the tool stops talking, and is not asked again by the repeats."""
    pedal = Pedal(Mode.OFF)
    assert pedal.press(0.0) == (DOWN, UP)
    assert pedal.press(0.6) == ()
    assert pedal.press(2.0) == (DOWN, UP)


@pytest.mark.parametrize("mode", list(Mode))
def test_downs_and_ups_alternate(mode: Mode) -> None:
    """Whatever comes, an engine never gets two downs in a row."""
    pedal, told = Pedal(mode), []
    for step in range(400):
        at_s = step * 0.13
        told += pedal.press(at_s) if step % 7 in (1, 2, 5) else pedal.wait(at_s)
    assert told[:2] == [DOWN, UP]
    assert all(a is not b for a, b in pairwise(told))
