"""The table of photographs: matched to entries on simulated walks, beside two plain ways."""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from shares import markdown
from walks import (
    AHEAD_S,
    CLAIM,
    NO_CLAIM,
    OTHER_DAY,
    RIGHT,
    UNMATCHED,
    WAYS,
    WRONG,
    Walk,
    as_proposed,
    calibrated,
    off,
    proposal,
    scored,
    sentences,
    walk,
)

from voicelog.config.grammar import Grammar
from voicelog.domain.zone import ZoneMap

CLOCKS: Mapping[str, Callable[[Walk], Walk]] = {
    "clock right": lambda one: one,
    f"{AHEAD_S:g} s ahead, found by one picture": lambda one: calibrated(off(one, AHEAD_S)),
    f"{AHEAD_S:g} s ahead, the proposed difference taken": lambda one: as_proposed(
        off(one, AHEAD_S)
    ),
    f"{AHEAD_S:g} s ahead, and not told": lambda one: off(one, AHEAD_S),
}
PROPOSED_WELL_S, WORTH_S = 15.0, 30.0
"""A proposed difference so near is right; one that is smaller than this is not told."""


def photo_text(count: int, manifest: Mapping[str, Any], grammar: Grammar) -> str:
    """The table of photographs, and what it is of."""
    said = sentences(manifest)
    walks = [walk(seed, said, grammar) for seed in range(count)]
    head = ["pictures: right · wrong · unmatched", *WAYS]
    return (
        f"{count} simulated walks with {sum(len(one.pictures) for one in walks)} pictures and "
        f"{sum(len(one.findings) for one in walks)} entries: utterances 5 to 20 s apart, 1 to 3 shots "
        f"2 to 15 s after a claim, single ones up to 20 s after anything else, often when the next "
        f"thing was said already. Right is the entry or its place; a picture of another day is right "
        f"where it is left alone. All delays are made up. {proposals_told(walks)}\n\n"
        f"{markdown(head, list(photo_rows(walks, grammar.zone_map)))}"
    )


def photo_rows(walks: Sequence[Walk], zone_map: ZoneMap) -> Iterator[list[str]]:
    """Shares of all walks' pictures for each clock; then the median walk."""
    for clock, read in CLOCKS.items():
        read_so = [read(one) for one in walks]
        found = [[scored(one, way, zone_map) for one in read_so] for way in WAYS.values()]
        totals = [sum(each, Counter()) for each in found]
        for kind in (CLAIM, NO_CLAIM, OTHER_DAY):
            count = sum(n for (of, _), n in totals[0].items() if of == kind)
            yield [f"{clock}: {count} {kind}", *(_three(total, kind) for total in totals)]
        medians = (statistics.median(map(right_share, each)) for each in found)
        yield [
            f"**{clock}: all, the median walk's share right**",
            *(f"{100 * m:.1f} %" for m in medians),
        ]


def _three(total: Counter[tuple[str, str]], kind: str) -> str:
    counts = [total[kind, what] for what in (RIGHT, WRONG, UNMATCHED)]
    return " · ".join(f"{100 * n / max(1, sum(counts)):.1f}" for n in counts) + " %"


def right_share(found: Counter[tuple[str, str]]) -> float:
    """The share of a walk's pictures that were matched right, those of other days left alone."""
    return sum(n for (_, what), n in found.items() if what == RIGHT) / max(1, found.total())


def proposals_told(walks: Sequence[Walk]) -> str:
    """How often the camera's error is proposed, and how often one that it has not."""
    when_off = [proposal(off(one, AHEAD_S)) for one in walks]
    errors = [abs(one.ahead.total_seconds() - AHEAD_S) for one in when_off if one is not None]
    when_right = [one for one in map(proposal, walks) if one is not None]
    false = sum(abs(one.ahead.total_seconds()) > WORTH_S for one in when_right)
    return (
        f"Of {len(walks)} walks with the clock {AHEAD_S:g} s ahead, the difference is proposed within "
        f"{PROPOSED_WELL_S:g} s on {sum(e <= PROPOSED_WELL_S for e in errors)}, another one on "
        f"{sum(e > PROPOSED_WELL_S for e in errors)}; with the clock right, one is proposed on {false}."
    )
