"""How long the reading of one utterance takes, dialogue and ledger left out.

Utterances are :data:`WORDS` words long, cut from the tuning part's own cases with 10 % word errors.
They are read twice in one process: first with cold caches, a new reader for every utterance whose
indexes alone are warm, then in a row with one reader after a warm-up on other utterances. The
larger vocabulary has :data:`TIMES` as many phrases, the added ones made up of the syllables of the
shipped ones, slot by slot as many more.
"""

from __future__ import annotations

import gc
import random
import statistics
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from time import perf_counter, process_time

from corpus import Hearing, hear, load
from own import settings_of, shipped

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.interpret.reader import Reader

WORDS, UTTERANCES, WARM_UP, COLD = 30, 200, 50, 50
TIMES = 10


_Spent = tuple[float, float]
"""Seconds on the clock and of the processor."""


@dataclass(frozen=True)
class Pace:
    """Times of one way to read, in seconds.

    Args:
        median_s: of all utterances.
        p99_s: 99 of 100 took less.
        max_s: the slowest.
        cpu_p99_s: 99 of 100 took less processor time, which other work hardly changes.
    """

    median_s: float
    p99_s: float
    max_s: float
    cpu_p99_s: float


@dataclass(frozen=True)
class Paces:
    """All that is measured.

    Args:
        phrases: in the shipped vocabulary.
        first_s: the very first utterance of a reader, its indexes built on the way.
        cold: with cold caches.
        warm: after the warm-up.
        larger: after the warm-up, with the larger vocabulary.
    """

    phrases: int
    first_s: float
    cold: Pace
    warm: Pace
    larger: Pace


def measure() -> Paces:
    """Measure it, in this process; nothing else should run beside it."""
    vocabulary = shipped().vocabulary
    said = list(utterances(UTTERANCES + WARM_UP))
    reader = _reader(vocabulary)
    first_s, _ = _timed(reader, said[0])
    cold = _pace(_cold(said[:COLD]))
    warm = _pace(_warm(reader, said))
    larger = _pace(_warm(_reader(grown(vocabulary, TIMES)), said))
    return Paces(len(vocabulary.phrases), first_s, cold, warm, larger)


def utterances(count: int) -> Iterator[Heard]:
    """So many utterances of :data:`WORDS` words, each from cases strung together."""
    chance = random.Random(0)
    texts = [text for case in load("tuning/hand") for text in case.say]
    for number in range(count):
        words: list[str] = []
        while len(words) < WORDS:
            text = chance.choice(texts)
            (heard,) = hear(text, Hearing(0.1), f"pace {number} {len(words)}")
            words += heard.text.split()
        yield Heard((Hypothesis(" ".join(words[:WORDS])),), engine="corrupted")


def grown(vocabulary: Vocabulary, times: int) -> Vocabulary:
    """The vocabulary so many times as large, by made-up phrases of the same slots and lengths."""
    chance = random.Random(1)
    pieces = _pieces(word for phrase in vocabulary.phrases for word in phrase.text.split())
    added = [
        replace(phrase, text=_made_up(phrase, pieces, chance))
        for _ in range(times - 1)
        for phrase in vocabulary.phrases
    ]
    return Vocabulary((*vocabulary.phrases, *added))


def _pieces(words: Iterable[str]) -> tuple[list[str], list[str]]:
    """Beginnings and ends of the vocabulary's words, cut in the middle."""
    whole = sorted({word for word in words if len(word) > 3})
    middle = [(word, (len(word) + 1) // 2) for word in whole]
    return [word[:cut] for word, cut in middle], [word[cut:] for word, cut in middle]


def _made_up(
    phrase: Phrase, pieces: tuple[Sequence[str], Sequence[str]], chance: random.Random
) -> str:
    heads, tails = pieces
    words = phrase.text.split()
    return " ".join(chance.choice(heads) + chance.choice(tails) for _ in words)


def _reader(vocabulary: Vocabulary) -> Reader:
    settings = settings_of(())
    return Reader(vocabulary, shipped().zone_map, speech=settings.speech)


def _cold(said: Sequence[Heard]) -> list[_Spent]:
    """Every utterance with a new reader and emptied caches, its indexes built beforehand."""
    spent = []
    for heard in said:
        reader = _reader(shipped().vocabulary)
        _timed(reader, Heard.typed("zyzzyva quorl"))
        for clear in _caches():
            clear()
        spent.append(_timed(reader, heard))
    return spent


def _caches() -> list[Callable[[], None]]:
    """What empties each function cache of the interpreting package."""
    modules = [m for name, m in sys.modules.items() if name.startswith("voicelog.interpret")]
    values = (value for module in modules for value in vars(module).values())
    return [value.cache_clear for value in values if _keeps_words(value)]


def _keeps_words(value: object) -> bool:
    """A cache with a bound on its size; one without keeps what is read once, such as a file."""
    parameters = getattr(value, "cache_parameters", None)
    return parameters is not None and parameters()["maxsize"] is not None


def _warm(reader: Reader, said: Sequence[Heard]) -> list[_Spent]:
    for heard in said[:WARM_UP]:
        reader.read(heard)
    return [_timed(reader, heard) for heard in said[WARM_UP:]]


def _timed(reader: Reader, heard: Heard) -> _Spent:
    gc.collect(0)
    begun, cpu = perf_counter(), process_time()
    reader.read(heard)
    return perf_counter() - begun, process_time() - cpu


def _pace(spent: Sequence[_Spent]) -> Pace:
    wall, cpu = ([pair[of] for pair in spent] for of in (0, 1))
    return Pace(statistics.median(wall), _p99(wall), max(wall), _p99(cpu))


def _p99(values: Sequence[float]) -> float:
    return statistics.quantiles(values, n=100, method="inclusive")[-1]


if __name__ == "__main__":
    for name, figure in vars(measure()).items():
        print(name, figure)
