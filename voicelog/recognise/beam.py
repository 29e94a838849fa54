"""Beam search over a step-by-step decoder, with a bias, a guard against loops and one on length.

The decoder is a small protocol, so that the search can be tested with one made of a table. Scores
are natural logarithms: the decoder's own log-probabilities plus the bias.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, Protocol

from voicelog.recognise.bias import Lean, PhraseTree

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    LogProbs = NDArray[float32]

LENGTH_POWER = 0.7
"""Scores are compared per token to this power, else short texts always win."""

CANDIDATES = 24
"""Tokens looked at after each open text; the bias can lift none from below these."""

OUT_OF_REACH = 7.0
"""Nats below the best token from which one is not looked at: the bias never lifts one that far."""

COPIES = 3
"""How often a piece of text may stand in a row before it counts as a loop."""

COPIES_OF_ONE = 5
"""The same for a single token: "one one one one" is a fair end of a serial number."""

LONGEST_PIECE = 16
"""Longest repeating piece looked for, in tokens."""

FEWEST_DIFFERENT = 4
"""Different tokens below which a tail may be monotonous: digits spelled out often are."""


class Decoder(Protocol):
    """One utterance, decoded step by step for several texts at once."""

    def start(self) -> LogProbs:
        """Log-probabilities of the first token, shape (1, vocabulary)."""

    def step(self, parents: Sequence[int], tokens: Sequence[int]) -> LogProbs:
        """Log-probabilities of the next token, one row for each text, shape (texts, vocabulary).

        Args:
            parents: for each text, the row of the last call that it continues.
            tokens: for each text, the token it continues with.
        """


@dataclass(frozen=True, slots=True)
class Spelling:
    """What the tokens stand for.

    Args:
        texts: token id to its text, a leading space where it begins a word.
        end: the token that ends a text.
    """

    texts: Sequence[str]
    end: int


@dataclass(frozen=True, slots=True)
class Path:
    """One text of the search: its tokens and what each of them cost.

    Args:
        tokens: token ids, start and end token left out.
        logprobs: log-probability of each token and, once ended, of the end token.
        lean: how it stands to the phrases; None without bias.
        most: nats that the bias may give at most.
    """

    tokens: tuple[int, ...] = ()
    logprobs: tuple[float, ...] = ()
    lean: Lean | None = None
    most: float = inf

    @property
    def score(self) -> float:
        """Nats, bias included."""
        return sum(self.logprobs) + (min(self.most, self.lean.worth) if self.lean else 0.0)

    @property
    def rank(self) -> float:
        """The score made comparable between lengths; higher is better."""
        return self.score / float(max(1, len(self.logprobs)) ** LENGTH_POWER)


def loops(tokens: Sequence[int]) -> bool:
    """True when the text ends in more copies of one piece than a person would say.

    Copies have to follow each other exactly, or almost: a text also loops when its tail is four
    times as long as the number of different tokens in it.
    """
    for size in range(1, LONGEST_PIECE + 1):
        length = size * ((COPIES_OF_ONE if size == 1 else COPIES) + 1)
        tail = tokens[-length:]
        if len(tail) < length:
            return False
        if all(tail[i] == tail[i - size] for i in range(size, length)):
            return True
        if size >= FEWEST_DIFFERENT and len(set(tail)) <= size:
            return True
    return False


def search(
    decoder: Decoder,
    spelling: Spelling,
    *,
    width: int,
    longest: int,
    tree: PhraseTree | None = None,
    most: float = inf,
) -> tuple[Path, ...]:
    """The best texts of one utterance, best first, at least one.

    Args:
        decoder: the utterance.
        spelling: what its tokens stand for.
        width: how many open texts are carried; 1 without a tree is plain greedy decoding.
        longest: tokens after which texts are taken as they stand.
        tree: the phrases to lean towards, if any.
        most: nats that they may give at most.
    """
    open_paths = [Path(lean=tree.start() if tree else None, most=most)]
    ended: list[Path] = []
    logprobs = decoder.start()
    for _ in range(longest):
        steps = _ranked_steps(
            open_paths, logprobs, spelling, 1 if width == 1 and not tree else CANDIDATES, tree
        )
        chosen = _choose(steps, ended, width, spelling.end)
        if not chosen or _settled(ended, [step.path for step in chosen], width):
            break
        open_paths = [step.path for step in chosen]
        logprobs = decoder.step(*zip(*((step.parent, step.token) for step in chosen), strict=True))
    return tuple(sorted(ended or open_paths, key=lambda path: -path.rank))


@dataclass(frozen=True, slots=True)
class _Step:
    """An open text with one more token, or ended."""

    path: Path
    parent: int
    token: int
    score: float


def _ranked_steps(
    open_paths: Sequence[Path],
    logprobs: LogProbs,
    spelling: Spelling,
    candidates: int,
    tree: PhraseTree | None,
) -> list[_Step]:
    steps: list[_Step] = []
    for parent, (path, row) in enumerate(zip(open_paths, logprobs, strict=True)):
        for token in _best_tokens(row, candidates):
            longer = _extended(path, token, float(row[token]), spelling, tree)
            steps.append(_Step(longer, parent, token, longer.score))
    return sorted(steps, key=lambda step: -step.score)


def _best_tokens(row: LogProbs, count: int) -> list[int]:
    if count == 1:
        return [int(row.argmax())]
    near = (row > row.max() - OUT_OF_REACH).nonzero()[0]  # a few of 32,768: sorting all costs more
    if len(near) > count:
        near = near[row[near].argpartition(-count)[-count:]]
    return [int(token) for token in near]


def _extended(
    path: Path, token: int, logprob: float, spelling: Spelling, tree: PhraseTree | None
) -> Path:
    lean = path.lean
    if token == spelling.end:
        lean = tree.finish(lean) if tree and lean else None
        return Path(path.tokens, (*path.logprobs, logprob), lean, path.most)
    lean = tree.step(lean, spelling.texts[token]) if tree and lean else None
    return Path((*path.tokens, token), (*path.logprobs, logprob), lean, path.most)


def _choose(steps: Sequence[_Step], ended: list[Path], width: int, end: int) -> list[_Step]:
    """The steps to carry on with; texts that end before the last of them join ``ended``."""
    chosen: list[_Step] = []
    for step in steps:
        if step.token == end:
            ended.append(step.path)
            if width == 1:
                return []
        elif not loops(step.path.tokens):
            chosen.append(step)
            if len(chosen) == width:
                break
    return chosen


def _settled(ended: Sequence[Path], open_paths: Sequence[Path], width: int) -> bool:
    """True when enough texts have ended and none still open is likely to overtake them."""
    if len(ended) < width:
        return False
    return max(p.rank for p in ended) > max(p.rank for p in open_paths)
