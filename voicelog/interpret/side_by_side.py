"""Two texts of one sentence, word beside word."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

from voicelog.interpret.spans import Span


def aligned(heard: Sequence[str], said: Sequence[str]) -> list[tuple[Span, Span]]:
    """Runs of both, in order: what was heard, and what was said there; equal words one by one."""
    runs: list[tuple[Span, Span]] = []
    matcher = SequenceMatcher(None, heard, said, autojunk=False)
    for kind, begin, end, first, last in matcher.get_opcodes():
        if kind == "equal" or end - begin == last - first:
            steps = range(end - begin)
            runs += [
                (Span(begin + n, begin + n + 1), Span(first + n, first + n + 1)) for n in steps
            ]
        else:
            runs.append((Span(begin, end), Span(first, last)))
    return runs


def over(runs: Sequence[tuple[Span, Span]], said: Span) -> range:
    """Words heard for a stretch of what was said; none where its bounds cut through a run."""
    inside = [(h, s) for h, s in runs if s.begin < said.end and s.end > said.begin]
    if not inside or inside[0][1].begin < said.begin or inside[-1][1].end > said.end:
        return range(0)
    return range(inside[0][0].begin, inside[-1][0].end)
