"""How words sound, how far apart two sounds are, and what is left of one at a glance.

A sound is a string of ``phonemes.SYMBOLS``, words run together: the pronouncing dictionary's first
pronunciation, by the rules of spelling for words it lacks.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import accumulate, groupby

from voicelog.interpret.letters import pronounce
from voicelog.interpret.phonemes import CONSONANTS, VOWELS, coda, losses, swaps
from voicelog.interpret.pronunciations import pronounced

_TO_CODA = {ord(consonant): coda(consonant) for consonant in CONSONANTS}

_CLASSES = ("pb", "tdTD", "kg", "fv", "szSZCJ", "mnN", "l", "r", "w")
_TO_CLASS: dict[int, str] = {ord(symbol): "" for symbol in VOWELS + "hy" + coda("h") + coda("y")}
for _class in _CLASSES:
    for _symbol in _class:
        _TO_CLASS |= {ord(_symbol): _class[0], ord(coda(_symbol)): _class[0]}
_TO_CLASS[ord(coda("r"))] = ""


@lru_cache(maxsize=20_000)
def sounds(text: str) -> str:
    """The sound of a phrase."""
    return "".join(map(_word, text.split()))


@lru_cache(maxsize=20_000)
def all_sounds(word: str) -> tuple[str, ...]:
    """Every sound the dictionary gives one word, most usual first; one by rule for a new word."""
    return tuple(map(_mark, pronounced(word))) or (_mark(pronounce(word)),)


def _word(word: str) -> str:
    return all_sounds(word)[0]


def _mark(phonemes: str) -> str:
    """Consonants after the last vowel as the symbols for a word's end."""
    end = len(phonemes.rstrip(CONSONANTS))
    return phonemes[:end] + phonemes[end:].translate(_TO_CODA)


@lru_cache(maxsize=20_000)
def skeleton(sound: str) -> str:
    """The consonants of a sound in coarse classes (lips, teeth, back, hiss, nose …), repeats and
    whatever is lightly said left out: words taken for each other mostly share it.
    """
    return "".join([each for each, _ in groupby(sound.translate(_TO_CLASS))])


@lru_cache(maxsize=20_000)
def weight(sound: str) -> float:
    """What it costs to lose a whole sound: its distance from silence."""
    lost = losses()
    return sum(lost[symbol] for symbol in sound)


def distance(one: str, other: str, most: float = float("inf")) -> float:
    """The cheapest way from one sound to another by swaps, losses and additions of phonemes.

    A metric (symmetric, nought only for the same sound, no detour shorter): the costs of one step
    are. Where it is over ``most``, some number over ``most`` comes back sooner.
    """
    swap, lost = swaps(), losses()
    gains = [lost[symbol] for symbol in other]
    row = list(accumulate(gains, initial=0.0))
    for mine in one:
        costs, gone = swap[mine], lost[mine]
        corner, left = row[0], row[0] + gone
        row[0] = left
        for j, (symbol, gain) in enumerate(zip(other, gains, strict=True), start=1):
            best = corner + costs[symbol]
            corner = row[j]
            if corner + gone < best:
                best = corner + gone
            left += gain
            if best < left:
                left = best
            row[j] = left
        if min(row) > most:
            return min(row)
    return row[-1]


def alike(one: str, other: str, least: float = 0.0) -> float:
    """How alike two sounds are, 0 to 1; 0 where it is under ``least``.

    One minus the normalised edit distance of Yujian and Bo (2007), 2d / (a + b + d) for sounds
    that weigh a and b, which is a metric too.
    """
    if one == other:
        return 1.0
    both = weight(one) + weight(other)
    most = both * (1.0 - least) / (1.0 + least)
    apart = distance(one, other, most)
    return 1.0 - 2.0 * apart / (both + apart) if apart <= most else 0.0
