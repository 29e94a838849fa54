"""Which of the chains found in a damaged journal are of one log, where lines of another one lie among
them.

Within a chain each line names the one before; across a gap nothing does. What speaks for one log
there: a clip or picture that lies in its folder as a line says, the time in the folder's name, and
the moment at which the log was opened, which every line tells (its time less its offset).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from voicelog.journal.pieces import Found

SAME_LOG_S = 60.0
"""Seconds by which two chains of one log may differ in when it was opened: clocks are put right."""

Chain = tuple[Found, ...]


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known of the log besides its lines.

    Args:
        proves: whether a line is of this log beyond doubt: it tells of a file that lies there.
        opened_s: when the log was opened, by its folder's name, in seconds since 1970; None where
            the name does not tell.
    """

    proves: Callable[[Found], bool] = lambda _: False
    opened_s: float | None = None


NOTHING_KNOWN = Evidence()


def own_and_strange(
    chains: Iterable[Chain], evidence: Evidence = NOTHING_KNOWN
) -> tuple[list[Chain], list[Chain]]:
    """The chains of the log, and those of others.

    Chains that were written into a log opened at the same time are of one log. Of several logs, this
    one is that for which most speaks; a chain that something proves to be its own is, in any case.
    """
    several = list(chains)
    if len(several) < 2:
        return several, []
    proofs = {id(chain): sum(map(evidence.proves, chain)) for chain in several}
    best = max(_logs(several), key=lambda log: _weight(log, proofs, evidence))
    chosen = {id(chain) for chain in best}
    own = [chain for chain in several if id(chain) in chosen or proofs[id(chain)]]
    strange = [chain for chain in several if id(chain) not in chosen and not proofs[id(chain)]]
    return own, strange


def _logs(chains: Iterable[Chain]) -> list[list[Chain]]:
    """The chains by the log they were written into, the one opened earliest first."""
    logs: list[list[Chain]] = []
    latest = -inf
    for earliest, last, _, chain in sorted((*_span(c), n, c) for n, c in enumerate(chains)):
        if earliest > latest + SAME_LOG_S:
            logs.append([])
        logs[-1].append(chain)
        latest = max(latest, last)
    return logs


def _weight(
    log: Sequence[Chain], proofs: Mapping[int, int], evidence: Evidence
) -> tuple[int, bool, int]:
    """What speaks for a log: files that lie there, the folder's name, how many lines there are."""
    named = evidence.opened_s
    near = named is not None and any(
        first - SAME_LOG_S <= named <= last + SAME_LOG_S for first, last in map(_span, log)
    )
    return sum(proofs[id(chain)] for chain in log), near, sum(map(len, log))


def _span(chain: Chain) -> tuple[float, float]:
    """When the log was opened, by its lines: at the earliest and at the latest."""
    told = [line.opened_s for line in chain]
    return min(told), max(told)
