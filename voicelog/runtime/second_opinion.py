"""When a second ear is worth asking, and what both ears together heard. Pure.

It costs a second of a processor, so it is asked only where its answer can change something: an entry
that is doubtful or unsafe, readings that contradict one another, words beside an entry that nothing
explains, or words about the vehicle of which no entry came. It is never asked about what steers the
tool, answers it, or is no more than talk.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard
from voicelog.domain.reading import Act, Reading, Statement, Vocabulary
from voicelog.findings.grading import worst_said
from voicelog.interpret.choosing import told
from voicelog.interpret.classes import FAULTS, PLACES
from voicelog.interpret.everyday import is_everyday
from voicelog.interpret.reader import Reader

STEERS = frozenset(
    (
        Act.STAND_BY, Act.GO_AHEAD, Act.FINISH, Act.SAY_AGAIN, Act.READ_BACK, Act.WHAT_IS_OPEN,
        Act.AFFIRM, Act.NEGATIVE, Act.DISREGARD,
    )
)  # fmt: skip
"""What was done at once and cannot be done otherwise afterwards."""

CLOSE = 0.6
"""Lead in belief over a contradicting reading below which the two are worth telling apart."""

WHOLE = 0.87
"""Score from which the words of a report are explained well enough."""

_REPORTS = (Act.REPORT, Act.NOT_SEEN, Act.PHOTO, Act.SAME, Act.ANOTHER, Act.CORRECTION)
"""What is said of the vehicle, whether or not an entry comes of it."""

DOUBTFUL, UNSAFE = "doubtful", "unsafe"
CONTRADICTED, UNEXPLAINED, UNENTERED = "contradicted", "unexplained", "unentered"
"""Reasons, as the log keeps them."""


@dataclass(frozen=True, slots=True)
class Trade:
    """The words for places and faults that nobody says in everyday talk.

    Args:
        names: each as words.
        longest: how many words the longest has.
    """

    names: frozenset[tuple[str, ...]]
    longest: int

    @classmethod
    def of(cls, vocabulary: Vocabulary) -> Trade:
        """Those of a grammar."""
        said = (p for p in vocabulary.phrases if p.slot in (*PLACES, *FAULTS) and not p.misheard)
        words = (tuple(phrase.text.split()) for phrase in said)
        names = frozenset(name for name in words if not is_everyday(name))
        return cls(names, max(map(len, names), default=0))

    def named(self, text: str) -> bool:
        """True where the text names a place or a fault."""
        return any(run in self.names for run in _runs(_plain(text), self.longest))


def reason_to_ask(reading: Reading, findings: Iterable[Finding], trade: Trade) -> str:
    """Why a second ear can change something; empty where it cannot.

    Args:
        reading: of the first ear; not in stand-by, when nothing may be kept of what was said.
        findings: the entries that it touched, as they stand now.
        trade: words that are about the vehicle.

    Returns:
        ``unsafe``, ``doubtful``, ``contradicted``, ``unexplained``, ``unentered``, or nothing.
    """
    if any(statement.act in STEERS for statement in reading.statements):
        return ""
    live = [finding for finding in findings if not finding.withdrawn]
    weighed = (
        (UNSAFE, any(worst_said(finding) is Grade.UNSAFE for finding in live)),
        (DOUBTFUL, any(_in_doubt(finding) for finding in live)),
        (CONTRADICTED, bool(reading.runner_up) and reading.margin < CLOSE),
        (UNEXPLAINED, any(map(_is_entry, live)) and reading.score < WHOLE),
        (UNENTERED, not any(map(_is_entry, live)) and _about_vehicle(reading, trade)),
    )
    return next((reason for reason, holds in weighed if holds), "")


def joint_reading(reader: Reader, reading: Reading, first: Heard, second: Heard | None) -> Reading:
    """What both ears together heard; the first one's reading where the second heard nothing.

    What steers the tool was heard by the first ear and is done already: a joint reading that would
    steer it otherwise does not count, nor one that only leaves something out: words that the second
    ear missed are explained the better for it.

    Args:
        reader: with the vocabulary in force.
        reading: of the first ear alone.
        first: what it heard.
        second: what the other one heard; None where it was not asked.
    """
    if second is None or not second.hypotheses:
        return reading
    joint = reader.read(first, second)
    less = told(joint.statements) < told(reading.statements)
    return reading if less or _steers(joint) != _steers(reading) else joint


def _steers(reading: Reading) -> frozenset[Act]:
    return STEERS & {statement.act for statement in reading.statements}


def _in_doubt(finding: Finding) -> bool:
    """A spelled number has its check digit, and what is said of the vehicle its very words."""
    return finding.entry.doubtful and not finding.entry.tags


def _is_entry(finding: Finding) -> bool:
    return finding.entry.kind is not Kind.REMARK or bool(finding.entry.tags)


def _about_vehicle(reading: Reading, trade: Trade) -> bool:
    """A remark that names a place or a fault, or a report that is not explained whole; a place alone
    is no riddle.
    """
    half = reading.score < WHOLE and any(said.act in _REPORTS for said in reading.statements)
    return half or any(_is_talk(said) and trade.named(said.text) for said in reading.statements)


def _is_talk(said: Statement) -> bool:
    return said.act is Act.REMARK and not said.tags


def _plain(text: str) -> list[str]:
    words = ("".join(c for c in word if c.isalnum() or c in "'-") for word in text.lower().split())
    return [word for word in words if word]


def _runs(words: Sequence[str], longest: int) -> Iterator[tuple[str, ...]]:
    """Every stretch of the words that may be a name."""
    for begin in range(len(words)):
        for end in range(begin + 1, min(len(words), begin + longest) + 1):
            yield tuple(words[begin:end])
