"""The reading that explains all hypotheses best, of one ear or of several.

Every way to cut every hypothesis is a candidate with a share of belief: a softmax over how well the
vocabulary explains its words and over how likely its ear thought it. Candidates that say the same
add up. The candidate whose facts agree best with everything believed wins (minimum Bayes risk over
slot agreement, Goel and Byrne 2000, Computer Speech and Language 14(2), 115-135), so that a slot in
which three hypotheses of four agree outweighs a neater sentence.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp

from voicelog.domain.reading import Statement
from voicelog.interpret.cover import Cover
from voicelog.interpret.tokens import Token

SHARPNESS = 4.0
"""Nats of belief for one word more of the utterance explained."""
TRUST = 0.5
"""Nats of belief for one nat of an ear's own score; ears are too sure of themselves."""
FAR = 0.4
"""Words explained less than by the best cover of the same words: not worth a look."""

Facts = frozenset[tuple[int, str, object]]


@dataclass(frozen=True, slots=True)
class Candidate:
    """One way to cut one hypothesis, and what it says.

    Args:
        cover: the way to cut it.
        tokens: the hypothesis' words.
        text: the hypothesis.
        behind: nats by which the ear likes it less than its best.
        said: its statements.
    """

    cover: Cover
    tokens: tuple[Token, ...]
    text: str
    behind: float
    said: tuple[Statement, ...]

    @property
    def fit(self) -> float:
        """How well the vocabulary explains the words, about 0 to 1."""
        return self.cover.total / len(self.tokens)


@dataclass(frozen=True, slots=True)
class Choice:
    """What was chosen.

    Args:
        best: the winner.
        rival: the most believed candidate that contradicts it; None when none does.
        margin: belief in the winner's facts less that in the rival's, 1 without a rival.
    """

    best: Candidate
    rival: Candidate | None
    margin: float


def choose(candidates: Sequence[Candidate]) -> Choice:
    """The candidate that explains all of them best; ``candidates`` holds at least one."""
    groups: dict[Facts, list[int]] = {}
    for index, candidate in enumerate(candidates):
        groups.setdefault(told(candidate.said), []).append(index)
    belief = _beliefs(candidates)
    masses = {facts: sum(belief[i] for i in members) for facts, members in groups.items()}
    worth = {
        facts: sum(mass * agreement(facts, other) for other, mass in masses.items())
        for facts in groups
    }
    ranked = sorted(groups, key=lambda facts: -worth[facts])
    best = max(groups[ranked[0]], key=lambda i: belief[i])
    rivals = [facts for facts in ranked[1:] if contradicts(ranked[0], facts)]
    if not rivals:
        return Choice(candidates[best], None, 1.0)
    rival = max(rivals, key=lambda facts: masses[facts])
    second = max(groups[rival], key=lambda i: belief[i])
    return Choice(candidates[best], candidates[second], masses[ranked[0]] - masses[rival])


def _beliefs(candidates: Sequence[Candidate]) -> list[float]:
    """Shares that add up to 1."""
    words = sum(len(candidate.tokens) for candidate in candidates) / len(candidates)
    nats = [SHARPNESS * c.fit * words - TRUST * c.behind for c in candidates]
    most = max(nats)
    weights = [exp(one - most) for one in nats]
    whole = sum(weights)
    return [weight / whole for weight in weights]


_TOLD = ("zone", "side", "face", "condition", "probe", "count", "size_mm", "thickness_mm")


def told(said: Sequence[Statement]) -> Facts:
    """What the statements come down to, each fact with the number of its statement."""
    facts: set[tuple[int, str, object]] = set()
    for number, statement in enumerate(said):
        if number and _repeats_side(statement, said[number - 1]):
            continue
        facts.add((number, "act", statement.act))
        facts.update(
            (number, slot, statement.slots[slot]) for slot in _TOLD if slot in statement.slots
        )
        if statement.clear:
            facts.add((number, "clear", True))
        facts.update((number, "absent", condition) for condition in statement.absent)
    return frozenset(facts)


def _repeats_side(statement: Statement, before: Statement) -> bool:
    """True for the "left" of "left outrigger, no solid metal left", taken for a side by itself."""
    side = statement.slots.get("side")
    return len(statement.slots) == 1 and side is not None and before.slots.get("side") == side


def agreement(one: Facts, other: Facts) -> float:
    """Share of facts in common, 0 to 1: twice the common ones over the sum of both."""
    return 2 * len(one & other) / (len(one) + len(other)) if one or other else 1.0


def contradicts(one: Facts, other: Facts) -> bool:
    """Two readings that cannot both hold; one that only leaves something out is no rival."""
    first = {(number, name): value for number, name, value in one if name != "absent"}
    second = {(number, name): value for number, name, value in other if name != "absent"}
    acts = [name for name in first.keys() ^ second.keys() if name[1] == "act"]
    return bool(acts) or any(first[name] != second[name] for name in first.keys() & second.keys())
