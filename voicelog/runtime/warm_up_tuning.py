"""How strongly the ear should lean to the vocabulary for one voice, from few sentences.

The same sound is decoded again with each bias. Two dozen sentences are few: one of them read right
by luck moves nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import comb

from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.interpret.reader import Reader
from voicelog.runtime.warm_up_takes import Take, take_of
from voicelog.tongue import worded

BIASES = (0.2, 0.3, 0.4, 0.5)
"""Tried, in nats a character. 0.6 began to invent words on our synthetic recordings."""

SHIPPED = Settings.bias
"""Between equals the nearest to it wins: it was measured on many voices, this is one."""

LEAST_SENTENCES = 12
"""Fewer tell nothing. Ours."""

LEAST_GAIN = 2
"""Sentences more that must read right, those lost subtracted. Ours: one may be luck."""

CHANCE = 0.05 / (len(BIASES) - 1)
"""How likely the change of one trial may be luck: one-sided sign test over the sentences that came
out differently, as is common practice for paired trials. 5 % are shared out among the biases that
are tried beside the one in force (Bonferroni's correction): the best of three lucky draws is taken,
and each at 5 % would move the bias without any real difference in 5 to 8 % of warm-ups."""


@dataclass(frozen=True, slots=True)
class Trial:
    """All sentences decoded with one bias.

    Args:
        bias: in nats a character.
        takes: the sentences, in the order in which they were said.
    """

    bias: float
    takes: tuple[Take, ...]

    @property
    def right(self) -> int:
        """Sentences with every slot right."""
        return sum(take.right for take in self.takes)

    @property
    def word_error_rate(self) -> float:
        """Wrong words for each word said."""
        words = sum(take.words for take in self.takes)
        return sum(take.wrong_words for take in self.takes) / words if words else 0.0


@dataclass(frozen=True, slots=True)
class Tuning:
    """What decoding again showed, and what follows from it.

    Args:
        trials: one for each bias, weakest first; none when nothing was decoded again.
        before: the bias in force.
        bias: the one that suits this voice; ``before`` when nothing is to be changed.
        why: the reason in a sentence.
    """

    trials: tuple[Trial, ...]
    before: float
    bias: float
    why: str

    @property
    def moved(self) -> bool:
        """Another bias is worth remembering."""
        return self.bias != self.before


def tuned(
    said: Sequence[tuple[Take, Clip]],
    ear_at: Callable[[float], Callable[[Clip], Heard]],
    reader: Reader,
    *,
    before: float,
    done: Callable[[int, int], None] = lambda _done, _of: None,
) -> Tuning:
    """Decode the sentences again with each other bias, and choose.

    Args:
        said: sentences as they were heard with the bias in force, and their sound.
        ear_at: what hears with a bias.
        reader: of the grammar in force.
        before: the bias in force.
        done: told how many decodings are done, and of how many.

    Raises:
        EarFault: the ear cannot decode.
    """
    if len(said) < LEAST_SENTENCES:
        few = worded(
            "too few to judge by: {heard} of at least {least} sentences were heard",
            heard=len(said),
            least=LEAST_SENTENCES,
        )
        return Tuning((), before, before, few)
    others = [bias for bias in BIASES if bias != before]
    trials = [Trial(before, tuple(take for take, _ in said))]
    for nth, bias in enumerate(others):
        hear, takes = ear_at(bias), []
        for number, (take, clip) in enumerate(said, 1):
            takes.append(take_of(take.prompt, hear(clip), reader))
            done(nth * len(said) + number, len(others) * len(said))
        trials.append(Trial(bias, tuple(takes)))
    return choose(sorted(trials, key=lambda trial: trial.bias), before)


def choose(trials: Iterable[Trial], before: float) -> Tuning:
    """The best of the trials, if it is better than the bias in force by more than luck.

    Best is most sentences right, then fewest wrong words, then nearest to the shipped bias. The
    shipped one is taken in its place where only luck may part the two: a strong bias can invent
    words in talk, and talk is not part of a warm-up.
    """
    tried = tuple(trials)
    now = next(trial for trial in tried if trial.bias == before)
    best = max(tried, key=lambda t: (t.right, -t.word_error_rate, -abs(t.bias - SHIPPED)))
    of = len(now.takes)
    if best is now:
        why = worded("no other is better ({right} of {all} right)", right=now.right, all=of)
        return Tuning(tried, before, before, why)
    if not beats(best, now):
        why = worded("too little to tell from luck: {told}", told=_told(best, now))
        return Tuning(tried, before, before, why)
    shipped = next((trial for trial in tried if trial.bias == SHIPPED), best)
    if beats(shipped, now) and not beats(best, shipped):
        best = shipped
    return Tuning(tried, before, best.bias, _told(best, now))


def beats(one: Trial, other: Trial) -> bool:
    """More sentences right than the other, and by more than luck."""
    better, worse = _compared(other, one)
    return one.right - other.right >= LEAST_GAIN and luck(better, worse) <= CHANCE


def _told(best: Trial, now: Trial) -> str:
    return worded(
        "{best} gets {right} of {all} sentences right, {now} gets {now_right}",
        best=f"{best.bias:g}",
        right=best.right,
        all=len(best.takes),
        now=f"{now.bias:g}",
        now_right=now.right,
    )


def luck(better: int, worse: int) -> float:
    """Probability that a fair coin falls at least so often on the side that came out better."""
    tosses = better + worse
    return float(sum(comb(tosses, n) for n in range(better, tosses + 1)) / 2**tosses)


def _compared(now: Trial, other: Trial) -> tuple[int, int]:
    """How many sentences came out better and worse: by their reading first, then by their words."""
    pairs = list(zip(map(_merit, now.takes), map(_merit, other.takes), strict=True))
    return sum(b > a for a, b in pairs), sum(b < a for a, b in pairs)


def _merit(take: Take) -> tuple[bool, int]:
    return take.right, -take.wrong_words
