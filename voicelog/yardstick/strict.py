"""The strict scorer: whole entries, every slot, nothing extra.

A case is exact when the entries that stand at the end (remarks and withdrawn ones aside) have, in
order, exactly the wanted kinds and slots, and when remarks carry every tag the case names. What is
scored is told slot by slot in ``tests/corpus/README.md``; a slot outside :data:`SCORED` neither helps nor
hurts.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from itertools import product
from typing import Any

from voicelog.domain.entry import Inspection, Kind

Slots = Mapping[str, Any]

SCORED = (
    "kind", "zone", "ordinal", "side", "face", "condition", "probe", "surround", "count", "size_mm",
    "width_mm", "depth_mm", "thickness_mm", "nominal_mm", "loss_percent", "area_percent",
    "mount_distance_mm", "certainty", "spoken_grade",
)  # fmt: skip
"""Everything else (method, part, layer, landmark, reason, absent, grade) is never scored."""

TOLERANCE = 0.01
"""Numbers within 1 % are equal."""
_LOSS_STEP = 0.05
"""A wall loss is kept to one decimal: half of that is no difference."""


@dataclass(frozen=True)
class Got:
    """An entry that stands at the end.

    Args:
        slots: its slots, ``kind`` among them.
        doubts: why it is marked doubtful; empty when it is not.
    """

    slots: Slots
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Answer:
    """What a system made of one case.

    Args:
        entries: those that stand at the end, in order, remarks aside.
        tags: tags of all remarks.
    """

    entries: tuple[Got, ...] = ()
    tags: frozenset[str] = frozenset()


Pair = tuple[Slots | None, Got | None]
"""A wanted entry and what was made of it; None where the other has no counterpart."""


@dataclass(frozen=True)
class Judged:
    """One case, judged.

    Args:
        exact: nothing is wrong, missing or extra.
        pairs: wanted entries aligned in order with those made.
    """

    exact: bool
    pairs: tuple[Pair, ...]


@dataclass(frozen=True)
class Tally:
    """Counts over cases; shares are made from them.

    Args:
        cases: how many.
        exact: cases without any fault.
        slots_right: slots made that were wanted so.
        slots_got: slots made.
        slots_wanted: slots wanted.
        right: entries made that match their wanted entry exactly.
        right_marked: those of them marked doubtful.
        wrong: entries made that do not, extra ones included.
        wrong_marked: those of them marked doubtful.
        missing: wanted entries of which nothing was made.
    """

    cases: int = 0
    exact: int = 0
    slots_right: int = 0
    slots_got: int = 0
    slots_wanted: int = 0
    right: int = 0
    right_marked: int = 0
    wrong: int = 0
    wrong_marked: int = 0
    missing: int = 0

    def __add__(self, other: Tally) -> Tally:
        names = (field.name for field in fields(self))
        return Tally(**{name: getattr(self, name) + getattr(other, name) for name in names})


def answer_of(inspection: Inspection) -> Answer:
    """The entries that stand, with their doubts; tags from remarks."""
    standing = [finding.entry for finding in inspection.live]
    return Answer(
        tuple(
            Got({"kind": str(entry.kind), **entry.slots}, entry.doubts)
            for entry in standing
            if entry.kind is not Kind.REMARK
        ),
        frozenset(tag for entry in standing if entry.kind is Kind.REMARK for tag in entry.tags),
    )


def false_in(tally: Tally) -> int:
    """Entries that nobody meant, and earlier ones taken away or changed."""
    return tally.wrong + tally.missing


def judge(want: Sequence[Slots], answer: Answer, tags: Iterable[str] = ()) -> Judged:
    """Compare what a case wants with what was made of it.

    Args:
        want: the wanted entries in order; slots that are never scored may be among theirs.
        answer: what was made.
        tags: tags that remarks must carry.
    """
    pairs = aligned(want, answer.entries)
    fine = all(fits(wanted, got) for wanted, got in pairs)
    return Judged(fine and set(tags) <= answer.tags, pairs)


def tally(judged: Judged) -> Tally:
    """One case as counts; add them up."""
    counts = (_counts(wanted, got) for wanted, got in judged.pairs)
    return sum(counts, Tally(cases=1, exact=judged.exact))


def fits(want: Slots | None, got: Got | None) -> bool:
    """Every wanted slot equal, and no other scored slot present."""
    if want is None or got is None:
        return False
    wanted, made = asked(want), told(got.slots, want)
    return wanted.keys() == made.keys() and all(same(n, v, made[n]) for n, v in wanted.items())


def same(name: str, want: Any, got: Any) -> bool:
    """Equal; numbers within 1 %, a wall loss also within its rounding."""
    if isinstance(want, int | float) and isinstance(got, int | float):
        slack = _LOSS_STEP if name == "loss_percent" else 0.0
        return abs(want - got) <= max(TOLERANCE * abs(want), slack) + 1e-9
    return bool(want == got)


def asked(want: Slots) -> dict[str, Any]:
    """The scored slots of a wanted entry."""
    return {name: want[name] for name in SCORED if name in want and want[name] != "stated"}


def told(got: Slots, want: Slots) -> dict[str, Any]:
    """The scored slots of an entry made; a loss that only follows from others is none."""
    said = asked(got)
    if "loss_percent" in said and "loss_percent" not in want and _follows(said):
        del said["loss_percent"]
    return said


def _follows(said: Slots) -> bool:
    """Whether thickness and nominal give the wall loss (the nominal may be the map's)."""
    if "thickness_mm" not in said or not said.get("nominal_mm"):
        return "thickness_mm" in said
    loss = 100 * (1 - said["thickness_mm"] / said["nominal_mm"])
    return bool(abs(loss - said["loss_percent"]) <= 2 * _LOSS_STEP)


def aligned(want: Sequence[Slots], made: Sequence[Got]) -> tuple[Pair, ...]:
    """Both in order, paired so that as many slots as possible agree (dynamic programming)."""
    best: dict[tuple[int, int], tuple[float, tuple[Pair, ...]]] = {}
    for i, j in product(range(len(want), -1, -1), range(len(made), -1, -1)):
        ways: list[tuple[float, tuple[Pair, ...]]] = []
        if i < len(want) and j < len(made):
            gain, rest = best[i + 1, j + 1]
            agreed = _agreed(want[i], made[j])
            if agreed:
                ways.append((agreed + gain, ((want[i], made[j]), *rest)))
        if i < len(want):
            gain, rest = best[i + 1, j]
            ways.append((gain, ((want[i], None), *rest)))
        if j < len(made):
            gain, rest = best[i, j + 1]
            ways.append((gain, ((None, made[j]), *rest)))
        best[i, j] = max(ways, key=lambda way: way[0], default=(0.0, ()))
    return best[0, 0][1]


def _agreed(want: Slots, got: Got) -> float:
    """Slots that agree; an exact pair is worth half a slot more."""
    wanted, made = asked(want), told(got.slots, want)
    count = sum(name in made and same(name, value, made[name]) for name, value in wanted.items())
    return count + 0.5 * fits(want, got)


def _counts(want: Slots | None, got: Got | None) -> Tally:
    if got is None:
        return Tally(slots_wanted=len(asked(want or {})), missing=1)
    wanted, made = asked(want or {}), told(got.slots, want or {})
    right, marked = fits(want, got), bool(got.doubts)
    return Tally(
        slots_right=sum(n in made and same(n, v, made[n]) for n, v in wanted.items()),
        slots_got=len(made),
        slots_wanted=len(wanted),
        right=right,
        right_marked=right and marked,
        wrong=not right,
        wrong_marked=not right and marked,
    )
