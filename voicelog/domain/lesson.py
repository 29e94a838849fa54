"""What one correction teaches: words that were heard, and what they were heard for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Lesson:
    """A mishearing that explains a correction.

    Args:
        heard: the words that were heard, in small letters with single spaces.
        slot: what they say something about: the slot or word class of a phrase of the vocabulary.
        value: its value.
        say: the phrase that was probably said.
        likeness: how alike both sound and look, 0 to 1.
        also: further slots that the phrase settles.
    """

    heard: str
    slot: str
    value: str
    say: str
    likeness: float
    also: Mapping[str, str] = field(default_factory=dict)
