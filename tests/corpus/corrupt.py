"""A model of mishearing: text as a recogniser might write it, at a word error rate.

What is assumed, besides the tables of ``confusions.toml``:

- Errors fall more on short unstressed words (1.6 times) and on words of the trade, which a general
  recogniser has seldom met (1.4 times for a word with a known confusion, 1.2 for one outside the common
  words), than on common content words (0.7 times).
- Where the confusion table has something for the words, half of the slips come from it; a number is
  written in digits in a third of its slips; the rest are general: near words, lost endings, shifted vowels,
  swallowed and inserted words, split and merged ones.
- Utterances are not heard alike: one in three gets 0.4 times the rate, one the rate, one 1.6 times.

The rate is met by counting: slips are added until the word distance to what was said, the numerator of
jiwer's WER, is what the rate asks of this utterance. Near words go by letters (rapidfuzz), never by the
program's own idea of sound, so that the program is not tested against itself.
"""

from __future__ import annotations

import random

from mishearings import SHORT, Words, common_words, confusions, digit_slip, general_slip, table_slip
from rapidfuzz.distance import Levenshtein

SEVERITIES = (0.4, 1.0, 1.6)
FROM_TABLE = 0.5
IN_DIGITS = 0.33
KEPT = 0.7
"""Share of the best hypothesis's slips that another hypothesis of the same sound shares."""

_TRIES = 40

Slips = dict[int, tuple[int, Words]]
"""Where a slip starts, how many said words it takes, and what is heard for them."""


def corrupt(text: str, rate: float, seed: int) -> str:
    """The text as it might be misheard.

    Args:
        text: what was said; commas and other marks after a word are kept where the word is.
        rate: word error rate that a corpus of such texts gets, from 0 to 1.
        seed: the same text, rate and seed give the same mishearing.

    Returns:
        What is heard. It never comes out empty.
    """
    rng = random.Random(f"{seed}:{rate}:{text}")
    said = tuple(text.split())
    return " ".join(_heard(said, _slips(said, _budget(len(said), rate, rng), {}, rng)))


def n_best(text: str, rate: float, seed: int, count: int = 4) -> list[tuple[str, float]]:
    """Several mishearings of one utterance, as a recogniser lists them.

    The first is ``corrupt`` with the same seed. The others share most of its errors, undo some and make
    others; each is drawn from the first, so the list is no better informed than one ear is.

    Args:
        text: what was said.
        rate: word error rate of the first hypothesis over a corpus; the others are a little worse.
        seed: as for ``corrupt``.
        count: how many at most; fewer when a short text allows no more different ones.

    Returns:
        Different texts with scores like log-probabilities, the first best.
    """
    rng = random.Random(f"{seed}:{rate}:{text}")
    said = tuple(text.split())
    best = _slips(said, _budget(len(said), rate, rng), {}, rng)
    texts = [" ".join(_heard(said, best))]
    for _ in range(_TRIES):
        if len(texts) == count:
            break
        other = " ".join(_heard(said, _variant(said, best, rng)))
        texts += [other] if other not in texts else []
    return list(zip(texts, _scores(len(said), len(texts), rng), strict=True))


def _variant(said: Words, best: Slips, rng: random.Random) -> Slips:
    """Another hypothesis: most of the best one's slips, and others in the place of the rest."""
    kept = {at: slip for at, slip in best.items() if rng.random() < KEPT}
    edits = max(0, word_errors(said, _heard(said, best)) + rng.choice((-1, 0, 0, 1)))
    return _slips(said, edits, kept, rng)


def _scores(words: int, count: int, rng: random.Random) -> list[float]:
    """Falling scores: about a fifth of a nat a word, then growing gaps."""
    score = -words * rng.uniform(0.1, 0.3)
    scores = []
    for _ in range(count):
        scores.append(round(score, 3))
        score -= rng.uniform(0.2, 1.0)
    return scores


def _budget(words: int, rate: float, rng: random.Random) -> int:
    """How many word edits this utterance gets: the rate on average, whole for each."""
    edits = words * rate * rng.choice(SEVERITIES)
    return int(edits) + (rng.random() < edits % 1)


def _slips(said: Words, edits: int, kept: Slips, rng: random.Random) -> Slips:
    """Slips added to the kept ones until the heard text is that many edits away."""
    slips, plain = dict(kept), tuple(_core(word) for word in said)
    away = word_errors(said, _heard(said, slips))
    for _ in range(_TRIES * max(edits, 1)):
        places = _free(said, slips)
        if away >= edits or not places:
            break
        at = rng.choices(places, [_weight(plain[place]) for place in places])[0]
        span, heard = _slip(plain, at, rng)
        if not set(range(at, at + span)) <= set(places):
            continue
        now = _heard(said, more := {**slips, at: (span, heard)})
        if now and away < word_errors(said, now) <= edits:
            slips, away = more, word_errors(said, now)
    return slips


def _slip(plain: Words, at: int, rng: random.Random) -> tuple[int, Words]:
    """One slip at a place: from the table, in digits or general, by the shares above."""
    from_table = table_slip(plain, at, rng)
    if from_table and rng.random() < FROM_TABLE:
        return from_table
    in_digits = digit_slip(plain, at)
    if in_digits and rng.random() < IN_DIGITS:
        return in_digits
    return general_slip(plain, at, rng)


def _free(said: Words, slips: Slips) -> list[int]:
    taken = {place for at, (span, _) in slips.items() for place in range(at, at + span)}
    return [place for place in range(len(said)) if place not in taken]


def _heard(said: Words, slips: Slips) -> Words:
    """The text with its slips; the mark after the last word of a slip stays."""
    heard: list[str] = []
    at = 0
    while at < len(said):
        span, words = slips.get(at, (1, (_core(said[at]),)))
        mark = said[at + span - 1][len(_core(said[at + span - 1])) :]
        heard += [*words[:-1], words[-1] + mark] if words else []
        at += span
    return tuple(heard)


def _core(word: str) -> str:
    return word.rstrip(",.:;?!")


def _weight(word: str) -> float:
    """How readily a word is misheard; see the module's docstring."""
    if word in SHORT:
        return 1.6
    if (word,) in confusions():
        return 1.4
    return 0.7 if word in common_words() else 1.2


def word_errors(said: Words, heard: Words) -> int:
    """Words substituted, left out and put in, marks aside: the numerator of the word error rate."""
    plain = [_core(word) for word in said]
    return Levenshtein.distance(plain, [_core(word) for word in heard])
