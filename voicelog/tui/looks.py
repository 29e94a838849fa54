"""How states, grades and places look: a word and a sign each, so that colour is never needed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from textual.content import Content

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.findings.wording import SIGNS
from voicelog.runtime.messages import State
from voicelog.tongue import Worded, to_word, worded


@dataclass(frozen=True, slots=True)
class Look:
    """How one thing is shown.

    Args:
        plain: what it is called, in English, marked for the catalogue.
        sign: one or two characters that stand for it.
        tone: the theme's pair of colours, ``$<tone>`` behind and ``$<tone>-ink`` on it; empty for those around it.
        hint: what to do about it, marked as well; empty where nothing needs doing.
    """

    plain: str
    sign: str
    tone: str
    hint: str = ""

    @property
    def name(self) -> Worded:
        """What it is called, as it stands within a line."""
        return worded(self.plain)

    @property
    def word(self) -> str:
        """The same in capitals."""
        return str(self.name).upper()

    @property
    def style(self) -> str:
        """Its colours as Textual's content takes them."""
        if not self.tone:
            return "bold"
        return f"bold $tone-{self.tone}-ink on $tone-{self.tone}"

    @property
    def css_class(self) -> str:
        """The class that gives a widget its colours; see ``app.tcss``."""
        return f"-tone-{self.tone}"


STATES: Mapping[State, Look] = {
    State.SET_UP: Look(to_word("SET-UP"), "?", "ask", to_word("Answer by voice, or press t and type; “{skip}” leaves it open")),
    State.STARTING: Look(to_word("STARTING"), "…", "busy", to_word("The ear is being made ready")),
    State.CAUTIONS: Look(to_word("CAUTIONS"), "!", "ask", to_word("Say “{yes}” or press a")),
    State.LISTENING: Look(to_word("LISTENING"), "·", "calm", to_word("Say where you are and what you see")),
    State.HEARING: Look(to_word("HEARING"), "»", "live", to_word("Go on")),
    State.READING: Look(to_word("READING"), "…", "busy", to_word("Making sense of it")),
    State.TALKING: Look(to_word("TALKING"), "«", "voice", to_word("It does not listen while it speaks; the pedal cuts in")),
    State.STANDING_BY: Look(to_word("STANDBY"), "║", "still", to_word("Nothing is kept until “{resume}”, or press g")),
    State.HELD: Look(to_word("PEDAL UP"), "▁", "still", to_word("Press the pedal to talk")),
    State.TOO_LOUD: Look(to_word("TOO LOUD"), "╱", "alarm", to_word("Words cannot be made out until the noise falls")),
    State.NO_MICROPHONE: Look(to_word("NO MIC"), "╱", "alarm", to_word("No sound comes in; it goes on looking")),
    State.STORAGE_REFUSED: Look(to_word("DISK!"), "╱", "alarm", to_word("The disk refuses; what was said is held and tried again")),
    State.FINISHED: Look(to_word("DONE"), "■", "still", to_word("The inspection is closed")),
}  # fmt: skip
"""State to its look; ``{resume}``, ``{yes}`` and ``{skip}`` stand for words that are spoken."""

LEAVING = Look(to_word("STOPPING"), "■", "still", to_word("It can be gone on with later"))
"""Shown between the wish to leave and the engine's last word."""

GRADES: Mapping[str, Look] = {
    str(grade): Look(name, SIGNS[str(grade)], str(grade))
    for grade, name in (
        (Grade.UNSAFE, to_word("unsafe")), (Grade.REPAIR, to_word("repair")),
        (Grade.TREAT, to_word("treat")), (Grade.COSMETIC, to_word("cosmetic")),
    )
}  # fmt: skip
"""Grade to its look, the worst first."""

KINDS: Mapping[Kind, Look] = {
    Kind.FINDING: Look(to_word("finding"), "=", "plain"),
    Kind.CLEAR: Look(to_word("clear"), "○", "plain"),
    Kind.NOT_SEEN: Look(to_word("not seen"), "×", "plain"),
    Kind.PHOTO: Look(to_word("photo"), "▤", "plain"),
    Kind.REMARK: Look(to_word("remark"), "“", "plain"),
}
"""Kind of entry to its look, where there is no grade."""

WITHDRAWN = Look(to_word("withdrawn"), "–", "plain")
"""The look of an entry that holds no longer."""

SEEN: Mapping[str, Look] = {
    "unseen": Look(to_word("not looked at"), "·", "unseen"),
    "refused": Look(to_word("can't be seen"), "×", "unseen"),
    "looked": Look(to_word("looked at"), "○", "looked"),
    "probed": Look(to_word("probed"), "●", "probed"),
}
"""What was done at a place of the plan, where there is no fault."""

CAVITY = Look(to_word("inside not seen"), "□", "unseen")
"""Laid over a place that hides metal nobody has looked into."""


def look_of(finding: Finding) -> Look:
    """The look of an entry: its grade's, or that of its kind."""
    if finding.grade is not None:
        return look_of_grade(finding.grade)
    return KINDS[finding.entry.kind]


def look_of_grade(grade: Grade) -> Look:
    """The look of a grade by itself."""
    return GRADES[str(grade)]


def in_column(*names: str) -> list[str]:
    """Names as wide as each other, and as wide as seven letters at least."""
    width = max(7, *map(len, names))
    return [f"{name:<{width}}" for name in names]


def sign_cell(look: Look, width: int) -> Content:
    """Sign and word on their colours, as wide as a column is; what is too long ends in "…".

    Args:
        look: what is shown.
        width: columns, with a blank at both ends.
    """
    told = Content(f" {look.sign} {look.word}").truncate(width - 1, ellipsis=True, pad=True)
    return Content.styled(f"{told.plain} ", look.style)
