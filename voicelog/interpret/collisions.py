"""Which phrases of a vocabulary sound alike although they mean different things?"""

from __future__ import annotations

from collections.abc import Sequence

from voicelog.domain.reading import Phrase


def collisions(phrases: Sequence[Phrase], least: float) -> tuple[tuple[Phrase, Phrase, float], ...]:
    """Pairs of spoken phrases with different meanings that sound alike, most alike first.

    Args:
        phrases: the vocabulary's phrases; known mishearings among them are left out.
        least: likeness of sound (0 to 1) from which a pair counts.
    """
    raise NotImplementedError(phrases, least)
