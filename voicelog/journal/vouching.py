"""Which of the lines found in a damaged journal belong to the log, and which are vouched for.

A line is vouched for by its hash: another line names it as the one it was written after. What no
line names is known only where it is the last, of the log or in front of a gap; then nothing
contradicts it, and it is taken on trust. What is contradicted is left out, and so is what another log
left in the file.
"""

from __future__ import annotations

from bisect import bisect, insort
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass, field

from voicelog.journal.belonging import NOTHING_KNOWN, Evidence, own_and_strange
from voicelog.journal.chain import FIRST_PREV
from voicelog.journal.linking import chains_of, first_of_each, links_of, rivals_of
from voicelog.journal.pieces import Found, Rest, Salvage
from voicelog.tongue import to_word, worded

MOST_LOST = 1_000_000
"""Lines in a row that may be missing in front of lines that vouch for one another."""

_MOST_LOST_ALONE = 1_000
"""The same in front of a single line, whose number nobody vouches for."""

STRANGE = to_word("it is of another log, which was opened at another time")
ALTERED = to_word("it is not as it was written: the line after it was written after another")


@dataclass(slots=True)
class Vouched:
    """The lines of the log, by their numbers.

    Args:
        lines: those that are taken.
        on_trust: numbers of those among them that nothing vouches for.
        opening: the first line where it is not as it was written; what it says is still the best
            there is. None otherwise.
        rivals: lines that were written after one of these as well, by the numbers that they share
            with those that are taken: two programs went on with the log at once.
        left: everything else, in the order of the file.
    """

    lines: dict[int, Found] = field(default_factory=dict)
    on_trust: set[int] = field(default_factory=set)
    opening: Found | None = None
    rivals: dict[int, list[Found]] = field(default_factory=dict)
    left: list[Rest] = field(default_factory=list)


def vouched(salvage: Salvage, evidence: Evidence = NOTHING_KNOWN) -> Vouched:
    """What belongs to the log: the chain that begins with the line that opened it, and behind each
    gap the longest chain whose numbers are free.

    Args:
        salvage: the lines found.
        evidence: what tells them from those of another log.
    """
    first = first_of_each(salvage.found)
    links = links_of(first)
    named = salvage.named | {before for before in links.values() if before}
    taken = _Taking(named, evidence)
    chains, strange = own_and_strange(chains_of(first, links, named), evidence)
    chains.sort(key=len, reverse=True)  # of two as long the one that begins first stays in front
    taken.open(chains)
    for chain in chains:
        taken.add(chain)
    taken.add_last(chains, salvage)
    taken.drop_contradicted()
    taken.result.rivals = rivals_of(taken.result.lines, first, links)
    others = {line.digest for chain in strange for line in chain}
    taken.result.left = sorted(_left(salvage, taken, others), key=lambda rest: rest.number)
    return taken.result


class _Taking:
    """The lines taken so far."""

    def __init__(self, named: set[str], evidence: Evidence) -> None:
        self.result = Vouched()
        self._named, self._proves = named, evidence.proves
        self._firsts: set[int] = set()
        self._chains: list[tuple[Found, ...]] = []
        self._ends = [1]
        """The numbers with which chains end, in order; the first line's is taken, whether it is there
        or not."""

    def open(self, chains: Sequence[tuple[Found, ...]]) -> None:
        """Takes the chain that begins with the line that opened the log, if there is one."""
        first = (c for c in chains if _opens(c[0]))
        chain = next(first, None)
        if chain is not None:
            self._take(chain)

    def add(self, chain: tuple[Found, ...]) -> None:
        """Takes a chain that vouches for itself, or a line that a clip vouches for, where its
        numbers are free.
        """
        line = chain[0]
        if line.digest in self._named or self._proves(line):
            self._fit(chain, MOST_LOST)

    def add_last(self, chains: Sequence[tuple[Found, ...]], salvage: Salvage) -> None:
        """Takes a line that stands alone at the end, behind a gap; where the line it was written
        after is there, and has another number, its own was altered.
        """
        last = max((line.number for line in salvage.found), default=0)
        known = {line.digest for line in salvage.found}
        for line, *more in chains:
            alone = not more and line.number == last and line.prev not in known
            if alone and line.seq > self._ends[-1]:
                self._fit((line,), _MOST_LOST_ALONE)

    def drop_contradicted(self) -> None:
        """Leaves out a line that the one with the next number was not written after."""
        for chain in self._chains:
            end = chain[-1]
            if end.seq + 1 in self._firsts and end.digest not in self._named:
                self._drop(end)
        ends = {chain[-1].seq: chain[-1] for chain in self._chains}
        lines = self.result.lines
        self.result.on_trust = {
            seq for seq, end in ends.items() if seq in lines and end.digest not in self._named
        }

    def _fit(self, chain: tuple[Found, ...], most_lost: int) -> None:
        begin, lines = chain[0].seq, self.result.lines
        if begin == 1 or any(line.seq in lines for line in chain):
            return
        if begin - self._ends[bisect(self._ends, begin) - 1] <= most_lost:
            self._take(chain)

    def _take(self, chain: tuple[Found, ...]) -> None:
        self._chains.append(chain)
        insort(self._ends, chain[-1].seq)
        self._firsts.add(chain[0].seq)
        self.result.lines |= {line.seq: line for line in chain}

    def _drop(self, line: Found) -> None:
        self.result.lines.pop(line.seq, None)
        if line.seq == 1:
            self.result.opening = line


def _opens(line: Found) -> bool:
    return line.seq == 1 and line.type == "opened" and line.prev == FIRST_PREV


def _left(salvage: Salvage, taken: _Taking, others: Set[str]) -> Iterator[Rest]:
    """What is not taken, and why not; the lines of ``others`` are of another log."""
    yield from salvage.rests
    lines = taken.result.lines
    by_digest = {line.digest: line for line in lines.values()}
    mended = {line.number: line.fix for line in lines.values() if line.fix}
    for line in salvage.found:
        same = by_digest.get(line.digest)
        if same is line:
            continue
        if same is not None:
            why = worded("it repeats line {line}", line=same.number)
            yield Rest(line.number, line.data, why, known=True)
        elif line.number in mended:
            why = worded("{fix}; it was put right", fix=worded(mended[line.number]))
            yield Rest(line.number, line.data, why, known=True)
        else:
            strange = line.digest in others
            yield Rest(line.number, line.data, worded(STRANGE) if strange else _why(line, taken))


def _why(line: Found, taken: _Taking) -> str:
    lines = taken.result.lines
    other = lines.get(line.seq)
    if line in taken.result.rivals.get(line.seq, ()):
        return worded(
            "two programs wrote line {line}, and with the other one the log goes on longer",
            line=line.seq,
        )
    if other is not None:
        return worded(
            "its number is {number}, and line {line} has that by right",
            number=line.seq,
            line=other.number,
        )
    if line.seq + 1 in lines:
        return worded(ALTERED)
    return worded("nothing vouches for it")
