"""The typed ear and the port's way of hearing a whole clip."""

from __future__ import annotations

import pytest

from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault
from voicelog.recognise.port import hear_clip
from voicelog.recognise.typed_engine import TypedEar


def test_text_is_heard_with_certainty() -> None:
    """What is written is what is heard; then the next utterance begins."""
    ear = TypedEar()
    ear.write("left front rail,")
    ear.write(" hole ")
    assert ear.partial() == "left front rail, hole"
    assert ear.finish() == Heard.typed("left front rail, hole")
    assert ear.finish().hypotheses == ()


def test_sound_is_refused_with_a_next_step() -> None:
    """Feeding a clip is a mistake that is told, not swallowed."""
    with pytest.raises(EarFault, match="voicelog read"):
        hear_clip(TypedEar(), Clip(bytes(3200), 0.0, 0.1))


def test_closing_forgets() -> None:
    """Nothing of the open utterance stays."""
    ear = TypedEar()
    ear.write("hole")
    ear.close()
    assert ear.partial() == ""
