"""Words of everyday talk, which one would meet in any conversation.

A recogniser writes them for what it misheard, and people say them all day. Alone they tell nothing:
whoever learned "hold" for *holed* would make a hole of "hold on". The reader takes them by their sound
where something is missing, and that is as far as one may go (``mending.py``).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from voicelog.interpret.lexicon import fold

DATA = Path(__file__).with_name("everyday.txt")


def is_everyday(words: Sequence[str]) -> bool:
    """One word alone that turns up in any talk; several together tell more.

    Args:
        words: in small letters.
    """
    return len(words) == 1 and fold(words[0]) in _everyday()


@cache
def _everyday() -> frozenset[str]:
    lines = DATA.read_text(encoding="utf-8").splitlines()
    return frozenset(fold(w) for line in lines if not line.startswith("#") for w in line.split())
