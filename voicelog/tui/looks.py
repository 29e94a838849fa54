"""How states, grades and places look: a word and a sign each, so that colour is never needed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.findings.wording import SIGNS
from voicelog.runtime.messages import State


@dataclass(frozen=True, slots=True)
class Look:
    """How one thing is shown.

    Args:
        word: in capitals.
        sign: one or two characters that stand for it.
        tone: the theme's pair of colours, ``$<tone>`` behind and ``$<tone>-ink`` on it.
        hint: what to do about it; empty where nothing needs doing.
    """

    word: str
    sign: str
    tone: str
    hint: str = ""

    @property
    def style(self) -> str:
        """Its colours as Textual's content takes them."""
        return f"bold $tone-{self.tone}-ink on $tone-{self.tone}"

    @property
    def css_class(self) -> str:
        """The class that gives a widget its colours; see ``app.tcss``."""
        return f"-tone-{self.tone}"


STATES: Mapping[State, Look] = {
    State.SET_UP: Look("SET-UP", "?", "ask", "Answer by voice, or press t and type; “skip” leaves it open"),
    State.STARTING: Look("STARTING", "…", "busy", "The ear is being made ready"),
    State.CAUTIONS: Look("CAUTIONS", "!", "ask", "Say “affirm” or press a"),
    State.LISTENING: Look("LISTENING", "·", "calm", "Say where you are and what you see"),
    State.HEARING: Look("HEARING", "»", "live", "Go on"),
    State.READING: Look("READING", "…", "busy", "Making sense of it"),
    State.TALKING: Look("TALKING", "«", "voice", "It does not listen while it speaks; the pedal cuts in"),
    State.STANDING_BY: Look("STANDBY", "║", "still", "Nothing is kept until “{resume}”, or press g"),
    State.HELD: Look("PEDAL UP", "▁", "still", "Press the pedal to talk"),
    State.TOO_LOUD: Look("TOO LOUD", "╱", "alarm", "Words cannot be made out until the noise falls"),
    State.NO_MICROPHONE: Look("NO MIC", "╱", "alarm", "No sound comes in; it goes on looking"),
    State.STORAGE_REFUSED: Look("DISK!", "╱", "alarm", "The disk refuses; what was said is held and tried again"),
    State.FINISHED: Look("DONE", "■", "still", "The inspection is closed"),
}  # fmt: skip
"""State to its look; ``{resume}`` stands for the phrase that ends standing by."""

LEAVING = Look("STOPPING", "■", "still", "It can be gone on with later")
"""Shown between the wish to leave and the engine's last word."""

GRADES: Mapping[str, Look] = {
    str(grade): Look(str(grade).upper(), SIGNS[str(grade)], str(grade))
    for grade in sorted(Grade, key=lambda grade: -grade.rank)
}
"""Grade to its look, the worst first."""

KINDS: Mapping[Kind, Look] = {
    Kind.FINDING: Look("FINDING", "=", "plain"),
    Kind.CLEAR: Look("CLEAR", "○", "plain"),
    Kind.NOT_SEEN: Look("NOT SEEN", "×", "plain"),
    Kind.PHOTO: Look("PHOTO", "▤", "plain"),
    Kind.REMARK: Look("REMARK", "“", "plain"),
}
"""Kind of entry to its look, where there is no grade."""

SEEN: Mapping[str, Look] = {
    "unseen": Look("not looked at", "·", "unseen"),
    "refused": Look("can't be seen", "×", "unseen"),
    "looked": Look("looked at", "○", "looked"),
    "probed": Look("probed", "●", "probed"),
}
"""What was done at a place of the plan, where there is no fault."""

CAVITY = Look("inside not seen", "□", "unseen")
"""Laid over a place that hides metal nobody has looked into."""


def look_of(finding: Finding) -> Look:
    """The look of an entry: its grade's, or that of its kind."""
    if finding.grade is not None:
        return GRADES[str(finding.grade)]
    return KINDS[finding.entry.kind]
