"""What is counted of every utterance, for every ear and every system."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from corpus import FINDING, WANTED, Said

from voicelog.domain.heard import Heard
from voicelog.yardstick.strict import Answer, Tally, false_in, judge, tally
from voicelog.yardstick.words import Words, count, plain
from yardstick.listening import Hearings
from yardstick.speech_set import Spoken
from yardstick.streams import Caught
from yardstick.systems import System

HeardBy = Mapping[str, Hearings]
"""What every ear heard, by its name."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a system made of one utterance of the speech set.

    Args:
        spoken: the utterance.
        tally: it judged, as counts.
        answer: the entries themselves.
        asked: the second ear was asked.
    """

    spoken: Spoken
    tally: Tally
    answer: Answer
    asked: bool

    @property
    def exact(self) -> bool:
        """Nothing is wrong, missing or extra."""
        return bool(self.tally.exact)


@dataclass(frozen=True, slots=True)
class FalseOne:
    """What a system made of one clip in which nobody told of the vehicle.

    Args:
        caught: the clip.
        count: entries made, and earlier ones spoilt.
        marked: those of the entries made that are marked doubtful.
        answer: what stands afterwards.
        asked: the second ear was asked.
    """

    caught: Caught
    count: int
    marked: int
    answer: Answer
    asked: bool


@dataclass(frozen=True)
class Part:
    """Everything measured on a part.

    Args:
        name: ``tuning`` or ``kept out``.
        spoken: its utterances.
        heard: what every ear heard.
        outcomes: by the system's name.
        chatter: by the system's name.
        noise: likewise.
        chatter_h: hours of chatter.
        noise_h: hours of noise.
    """

    name: str
    spoken: Sequence[Spoken]
    heard: HeardBy
    outcomes: Mapping[str, Sequence[Outcome]]
    chatter: Mapping[str, Sequence[FalseOne]] = field(default_factory=dict)
    noise: Mapping[str, Sequence[FalseOne]] = field(default_factory=dict)
    chatter_h: float = 0.0
    noise_h: float = 0.0

    def under(self, system: str, condition: str) -> list[Outcome]:
        """A system's outcomes in one condition."""
        return [o for o in self.outcomes[system] if o.spoken.condition.name == condition]


def outcomes(system: System, spoken: Iterable[Spoken], heard: HeardBy) -> list[Outcome]:
    """What the system makes of every utterance that all its ears have heard."""
    found = []
    for each in (s for s in spoken if _is_heard(system, s.key, heard)):
        made = system.make((), _heards(system, each, heard))
        judged = judge(each.case.want, made.answer, each.case.tags)
        found.append(Outcome(each, tally(judged), made.answer, made.asked))
    return found


def _heards(system: System, spoken: Spoken, heard: HeardBy) -> list[Heard]:
    if not system.ears:
        return [Heard.typed(spoken.text)]
    return [heard[ear][spoken.key] for ear in system.ears]


def _is_heard(system: System, key: str, heard: HeardBy) -> bool:
    return all(key in heard[ear] for ear in system.ears)


def false_ones(system: System, caught: Iterable[Caught], heard: HeardBy) -> list[FalseOne]:
    """What the system makes of clips without any finding, each right after a typed finding.

    Nothing of what its ears did not hear, and nothing of a system without ears.
    """
    before, found = (Said(0.0, (Heard.typed(FINDING[0]),)),), []
    for each in (c for c in caught if system.ears and _is_heard(system, c.key, heard)):
        made = system.make(before, [heard[ear][each.key] for ear in system.ears])
        counts = tally(judge([WANTED], made.answer))
        found.append(FalseOne(each, false_in(counts), counts.wrong_marked, made.answer, made.asked))
    return found


def words_of(spoken: Iterable[Spoken], hearings: Hearings) -> Words:
    """Word errors of an ear over these utterances."""
    heard = ((s, hearings[s.key]) for s in spoken if s.key in hearings)
    return sum((count(plain(s.text), plain(found.text)) for s, found in heard), Words())


def total(found: Iterable[Outcome]) -> Tally:
    """Their counts added up."""
    return sum((outcome.tally for outcome in found), Tally())
