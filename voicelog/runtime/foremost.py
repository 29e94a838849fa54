"""The one thing about a live inspection that a person should know first."""

from __future__ import annotations

from voicelog.runtime.answering import Answering
from voicelog.runtime.due import Due
from voicelog.runtime.messages import State, StateChanged
from voicelog.runtime.sound_in import SoundIn
from voicelog.tongue import worded


def foremost(sound: SoundIn, answering: Answering, due: Due, *, cautions: bool) -> StateChanged:
    """What is refused or away first, then what keeps the tool from hearing, then what it does.

    Args:
        sound: what comes in.
        answering: what is said.
        due: what waits for the disk.
        cautions: they wait to be affirmed.
    """
    if due.refused:
        return StateChanged(State.STORAGE_REFUSED, due.refused)
    if sound.away:
        return StateChanged(State.NO_MICROPHONE, sound.away)
    flags = (
        (State.TALKING, answering.deafening),
        (State.STANDING_BY, sound.private),
        (State.READING, sound.reading),
        (State.HEARING, sound.speaking),
        (State.HELD, not sound.listens),
        (State.CAUTIONS, cautions),
        (State.TOO_LOUD, sound.too_loud),
    )
    state = next((state for state, holds in flags if holds), State.LISTENING)
    return StateChanged(state, worded("the recordings are over") if sound.ended else "")
