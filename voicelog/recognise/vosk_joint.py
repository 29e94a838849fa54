"""Two recognisers over one model as one: what the limited one hears, where the free one bears it out.

A recogniser that is limited to the vocabulary makes vocabulary of everything, and is sure of it:
asked for a single phrase, it heard that phrase in five of six sentences that did not hold it. So it
is never believed by itself. Where both heard something at the same time and it is spelt alike, the
limited one's words stand; everywhere else, and where the limited one heard no word of the
vocabulary (``[unk]``), the free one's do.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from itertools import islice

from voicelog.domain.heard import Hypothesis, Word

UNKNOWN_WORDS = ("[unk]", "<unk>", "<UNK>")
"""What models call a word they do not know, the usual name first."""

ALIKE = 0.5
"""Share of letters in common from which two stretches may be the same words.

Of the usual confusions in shared/SPEECH.md three in four reach it, of pairs of unlike words of the
vocabulary one in twenty-five.
"""

BORNE_OUT = 0.5
"""Least share of the spoken time that the free recogniser must bear out."""

NATS_A_LETTER = 1.0
"""Belief lost with each letter that the free recogniser did not hear. The scores of the two cannot
be compared: each has its own idea of which words are likely."""

MOST = 2
"""Hypotheses added at most; each costs the reader as long as one of the free recogniser's."""

TOGETHER = 0.5
"""Share of the shorter of two words that must lie within the other to be said at the same time."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """What both heard in one stretch of time."""

    free: tuple[Word, ...]
    limited: tuple[Word, ...]

    @property
    def alike(self) -> float:
        """Share of letters in common, 0 where the limited one heard nothing it knows."""
        if not self.free or not self.limited or any(_unknown(word) for word in self.limited):
            return 0.0
        return SequenceMatcher(None, _letters(self.free), _letters(self.limited), False).ratio()

    @property
    def is_borne_out(self) -> bool:
        """The limited one may be believed here."""
        return self.alike >= ALIKE

    @property
    def spoken_s(self) -> float:
        """How long the words took."""
        return sum(map(_length_s, self.free or self.limited))

    @property
    def words(self) -> tuple[Word, ...]:
        """What stands; the limited one is as sure as it is and as the two are alike."""
        if not self.is_borne_out:
            return self.free
        return tuple(
            replace(word, confidence=round(self.alike * (word.confidence or 0.0), 3))
            for word in self.limited
        )


def joint(free: Sequence[Hypothesis], limited: Sequence[Word]) -> tuple[Hypothesis, ...]:
    """All hypotheses of the free recogniser, and those in which the limited one put words right.

    Args:
        free: best first.
        limited: what the limited recogniser heard, with times.
    """
    known = {hypothesis.text for hypothesis in free}
    righted = [made for one in free if limited and (made := _righted(one, limited)) is not None]
    new: dict[str, Hypothesis] = {}
    for made in sorted(righted, key=lambda one: -one.score):
        if made.text not in known:
            new.setdefault(made.text, made)
    return tuple(sorted((*free, *islice(new.values(), MOST)), key=lambda one: -one.score))


def _righted(free: Hypothesis, limited: Sequence[Word]) -> Hypothesis | None:
    """The hypothesis with the limited one's words; None where too little bears them out."""
    stretches = list(_stretches(free.words, limited))
    held = sum(stretch.spoken_s for stretch in stretches if stretch.is_borne_out)
    if held < BORNE_OUT * sum(stretch.spoken_s for stretch in stretches):
        return None
    words = tuple(word for stretch in stretches for word in stretch.words)
    score = free.score - NATS_A_LETTER * _letters_apart(free.words, words)
    return Hypothesis(" ".join(word.text for word in words), score, words)


def _stretches(free: Sequence[Word], limited: Sequence[Word]) -> Iterator[_Stretch]:
    """Both, cut where neither is in the middle of a word, in order of time."""
    said = [(word, True) for word in free] + [(word, False) for word in limited]
    groups: list[list[tuple[Word, bool]]] = []
    for word, is_free in sorted(said, key=lambda one: _start_s(one[0])):
        if groups and any(
            _together(word, other) for other, whose in groups[-1] if whose != is_free
        ):
            groups[-1].append((word, is_free))
        else:
            groups.append([(word, is_free)])
    for group in groups:
        yield _Stretch(
            tuple(word for word, is_free in group if is_free),
            tuple(word for word, is_free in group if not is_free),
        )


def _together(one: Word, other: Word) -> bool:
    begin, end = max(_start_s(one), _start_s(other)), min(_end_s(one), _end_s(other))
    return end - begin >= TOGETHER * min(_length_s(one), _length_s(other)) > 0.0


def _letters_apart(one: Sequence[Word], other: Sequence[Word]) -> float:
    """Letters of the longer that the other does not have."""
    first, second = _letters(one), _letters(other)
    blocks = SequenceMatcher(None, first, second, False).get_matching_blocks()
    return float(max(len(first), len(second)) - sum(block.size for block in blocks))


def _letters(words: Sequence[Word]) -> str:
    """Without spaces, and written in blocks or with marks, taken apart into single letters."""
    return unicodedata.normalize("NFD", "".join(word.text for word in words).casefold())


def _unknown(word: Word) -> bool:
    return word.text in UNKNOWN_WORDS


def _start_s(word: Word) -> float:
    return word.start_s or 0.0


def _end_s(word: Word) -> float:
    return word.end_s or 0.0


def _length_s(word: Word) -> float:
    return _end_s(word) - _start_s(word)
