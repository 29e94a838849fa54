"""Pictures of the screen; what they show is asserted elsewhere, so that a new look is no failure.

After a look at the difference: ``python -m pytest tests/tui/test_snapshots.py --snapshot-update``.
"""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.domain.signal import Signal
from voicelog.runtime.messages import (
    AnswerAwaited,
    Noticed,
    Partial,
    State,
    StateChanged,
    Told,
)

HEARING = [StateChanged(State.HEARING), Partial("left rear spring hanger, there is a crack")]
LOUD = [StateChanged(State.TOO_LOUD), Noticed("0.4 s of sound were lost", serious=True)]
ASKED = [
    Told(Signal.QUESTION, "Left rear rail, hole. Affirm?", question=True, for_s=8.0),
    AnswerAwaited(8.0),
]

SHOTS: dict[str, tuple[tuple[int, int], list[Any], tuple[str, ...], str]] = {
    "small": ((80, 24), [], (), "dark"),
    "small-question": ((80, 24), ASKED, (), "dark"),
    "small-loud": ((80, 24), LOUD, (), "dark"),
    "small-plan": ((80, 24), [], ("v",), "dark"),
    "small-typing": ((80, 24), [], ("t", "h", "o", "l", "e"), "light"),
    "middle-hearing": ((120, 40), HEARING, (), "dark"),
    "middle-light": ((120, 40), [StateChanged(State.STANDING_BY)], (), "light"),
    "middle-help": ((120, 40), [], ("f1",), "dark"),
    "wall-hearing": ((200, 60), HEARING, (), "dark"),
}


@pytest.mark.parametrize("name", SHOTS)
def test_the_screen_looks_as_it_did(stage: Any, snap_compare: Any, name: str) -> None:
    """One size, state and theme each."""
    size, more, keys, theme = SHOTS[name]

    async def tell(pilot: Any) -> None:
        await pilot.pause()
        stage.say(*stage.story(), *more)
        await pilot.pause()

    app = stage.app(theme=theme)
    assert snap_compare(app, press=keys, terminal_size=size, run_before=tell)


def test_the_cautions_look_as_they_did(stage: Any, snap_compare: Any) -> None:
    """The first thing that anybody sees."""

    async def tell(pilot: Any) -> None:
        await pilot.pause()
        stage.say(stage.opened(), StateChanged(State.CAUTIONS))
        await pilot.pause()

    assert snap_compare(stage.app(), terminal_size=(80, 24), run_before=tell)
