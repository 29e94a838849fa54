"""What the tool answers without words, and how much it says in words."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from voicelog.tongue import to_word


class Signal(StrEnum):
    """A short tone of its own each; what it means is all there is to say about it."""

    FINDING = "finding"
    """An entry was made (finding, clear, not seen, photo) and is on disk."""
    DOUBTFUL = "doubtful"
    """An entry was made, and should be listened to again."""
    REMARK = "remark"
    """The words were kept; they made no entry."""
    UNSAFE = "unsafe"
    """An entry was made whose grade is unsafe."""
    CHANGED = "changed"
    """An earlier entry was corrected, amended or withdrawn."""
    QUESTION = "question"
    """The tool asks something and waits for the answer."""
    REFUSED = "refused"
    """Nothing was done; the reason is said."""
    STANDING_BY = "standing-by"
    """Nothing is kept from now on."""
    LISTENING = "listening"
    """It listens (again)."""
    TOO_LOUD = "too-loud"
    """The noise is too loud to hear words in."""
    MICROPHONE_LOST = "microphone-lost"
    """No sound comes in any more."""
    MICROPHONE_BACK = "microphone-back"
    """Sound comes in again."""
    FINISHED = "finished"
    """The inspection was closed."""


MEANINGS: Mapping[Signal, str] = {
    Signal.FINDING: to_word("an entry was made and is on disk"),
    Signal.DOUBTFUL: to_word("an entry was made; check it later"),
    Signal.REMARK: to_word("the words were kept, no entry was made"),
    Signal.UNSAFE: to_word("an entry was made whose grade is unsafe"),
    Signal.CHANGED: to_word("an earlier entry was changed or withdrawn"),
    Signal.QUESTION: to_word("a question is asked; answer it"),
    Signal.REFUSED: to_word("nothing was done; the reason is told"),
    Signal.STANDING_BY: to_word("nothing is kept from now on"),
    Signal.LISTENING: to_word("it listens again"),
    Signal.TOO_LOUD: to_word("the noise is too loud to hear words in"),
    Signal.MICROPHONE_LOST: to_word("no sound comes in any more"),
    Signal.MICROPHONE_BACK: to_word("sound comes in again"),
    Signal.FINISHED: to_word("the inspection is closed"),
}
"""Each tone in a few words, marked for the catalogue, wherever a person looks it up."""


class Talk(StrEnum):
    """How much the tool says aloud; tones sound at every level."""

    TONES = "tones"
    """Nothing but questions and alarms, and what was asked for ("say again", "read back")."""
    FINDINGS = "findings"
    """Entries are read back as well."""
    EVERYTHING = "everything"
    """Every utterance gets a spoken answer, cautions at findings included."""
