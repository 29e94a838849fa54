"""What is compared: ears alone, ears together, and plain recognisers with keyword search."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import keyword_search
from corpus import APART_S, Said
from own import reader_of, settings_of, shipped, understand

from voicelog.domain.heard import Heard
from voicelog.runtime.inspected import Inspected
from voicelog.yardstick.strict import Answer

Heards = Sequence[Heard]
"""What each ear of a system made of one utterance."""


@dataclass(frozen=True, slots=True)
class Made:
    """What a system made of one utterance.

    Args:
        answer: the entries that stand afterwards.
        asked: the second ear was asked.
    """

    answer: Answer
    asked: bool = False


@dataclass(frozen=True, slots=True)
class System:
    """One way to get from sound to entries.

    Args:
        name: in the tables.
        ears: whose hearing it needs, in this order.
        make: from what was said before and what they heard.
        marks: it marks entries doubtful.
    """

    name: str
    ears: tuple[str, ...]
    make: Callable[[Sequence[Said], Heards], Made]
    marks: bool = True


def together(before: Sequence[Said], heards: Heards) -> Made:
    """All that was heard, read as one."""
    return Made(understand([*before, _after(before, heards)], {}), asked=len(heards) > 1)


def when_useful(before: Sequence[Said], heards: Heards) -> Made:
    """The second ear is asked at once where it can change something, as ``voicelog hear`` does."""
    inspected, (first, second) = _begun(before), heards
    said = _after(before, [first])
    opinion = inspected.take(first, said.at_s, lambda: (second, 0.0)).opinion
    return Made(inspected.answer, opinion is not None)


def unanswered(before: Sequence[Said], heards: Heards) -> Made:
    """It is asked afterwards, as on the live screen, and nobody answers what is then asked.

    So the entries are the first ear's; the second one only gives and takes doubts.
    """
    inspected, (first, second) = _begun(before), heards
    said, understanding = _after(before, [first]), inspected.understanding
    understood, taken = inspected.take(first, said.at_s), understanding.taken
    asked = understood.turn.keep and understanding.reason(understood.reading, understood.findings)
    if asked and taken is not None:
        understanding.heed(understanding.judge(taken, second).changes, None, said.at_s)
    return Made(inspected.answer, bool(asked))


def _begun(before: Sequence[Said]) -> Inspected:
    """An inspection of the program in which this was said."""
    settings = settings_of(())
    inspected = Inspected(settings, shipped(), reader_of(settings))
    for said in before:
        inspected.take(said.heard[0], said.at_s)
    return inspected


def looked_up(before: Sequence[Said], heards: Heards) -> Made:
    """Keyword search over the first ear's text."""
    return Made(keyword_search.understand([*before, _after(before, heards)], {}))


def _after(before: Sequence[Said], heards: Heards) -> Said:
    return Said(APART_S * len(before), tuple(heards))


TYPED = System("typed text", (), together)
"""What the reading could reach if nothing were misheard; it is given the text in place of an ear."""
ALONE, SECOND, PUBLISHED = "built-in", "second", "built-in as published"
BOTH = "built-in + second"
"""The two that the targets are set for."""


def systems(ears: Sequence[str], plain: Sequence[str]) -> list[System]:
    """Every system that these ears allow, in the order of the tables.

    Args:
        ears: that were heard.
        plain: those of them that a plain keyword search is put on.
    """
    alone = [System(name, (name,), together) for name in ears]
    pairs = [
        system
        for first in (ALONE, "vosk")
        for system in (
            System(f"{first} + second", (first, SECOND), when_useful),
            System(f"{first} + second, unanswered", (first, SECOND), unanswered),
            System(f"{first} + second, always", (first, SECOND), together),
        )
        if first in ears and SECOND in ears
    ]
    if ALONE in ears and PUBLISHED in ears:
        pairs.append(System("built-in, both forms", (ALONE, PUBLISHED), together))
    searched = [
        System(f"{name}, keyword search", (name,), looked_up, marks=False) for name in plain
    ]
    return [*alone, *pairs, *searched, TYPED]
