"""Phrases said with small words between, or turned round: "the seam has really blown"."""

from __future__ import annotations

from collections.abc import Sequence

from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.lexicon import Match, fold

LIGHT = "light"
"""Value of those fillers that may stand inside another phrase without changing it."""

THING = "thing"
"""Value of fillers that name a thing: with a state they tell, as in "bolts badly wasted"."""

_STRETCHED = frozenset(
    ("condition", "rot", "rust", "probe", "surround", "clear", "method", "spoken_grade", "act")
)
"""Classes whose phrases may be stretched; the rest are names and set expressions."""
_TURNED = ("condition", "rust", "rot")
"""Classes whose words may come in any order: "bolts seized" is "seized bolts"."""
_ENOUGH = 2
"""Words of a phrase that are enough with a single telling one among them."""
_SCORE = 0.99


class Gaps:
    """Phrases by the words that carry them.

    Args:
        vocabulary: every phrase; its light fillers may stand inside the others.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._light = frozenset(p.text for p in vocabulary.phrases if p.value == LIGHT)
        self._weak = frozenset(
            p.text
            for p in vocabulary.phrases
            if p.slot == "negation" or (p.slot == "filler" and p.value != THING)
        )
        self._phrases: dict[tuple[str, ...], Phrase] = {}
        self._carrying: set[str] = set()
        for phrase in vocabulary.phrases:
            if phrase.slot in _STRETCHED and not phrase.misheard and " " in phrase.text:
                self._add(phrase)

    def _add(self, phrase: Phrase) -> None:
        carried = self._carried(phrase.text.split())
        strong = len([word for word in carried if word not in self._weak])
        if strong > 1 or (strong and len(carried) > _ENOUGH):
            self._phrases.setdefault(carried, phrase)
            self._carrying.update(carried)
            if phrase.slot in _TURNED and strong == len(carried):
                self._phrases.setdefault((_ANY_ORDER, *sorted(carried)), phrase)

    def _carried(self, words: Sequence[str]) -> tuple[str, ...]:
        return tuple([fold(word) for word in words if word not in self._light])

    def is_light(self, word: str) -> bool:
        """True when the word may stand inside any phrase."""
        return word in self._light

    def is_weak(self, word: str) -> bool:
        """True for a filler that names nothing, and for a "no": light words are weak too."""
        return word in self._weak

    def carries(self, folded: str) -> bool:
        """True when some phrase that can be stretched has this word."""
        return folded in self._carrying

    def stretched(self, carried: tuple[str, ...]) -> tuple[Match, ...]:
        """The phrase that these folded words carry, in this order or any; at most one."""
        phrase = self._phrases.get(carried) or self._phrases.get((_ANY_ORDER, *sorted(carried)))
        return (Match(phrase, _SCORE),) if phrase is not None else ()


_ANY_ORDER = ""
"""Marks a key whose words are sorted; no word is empty."""
