"""What follows from an inspection: why a grade was given, what could change it, what to do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from voicelog.domain.entry import Seen
from voicelog.domain.grade import Gap, Grade, Rule
from voicelog.domain.rating import CoatingRating


@dataclass(frozen=True, slots=True)
class WhatIf:
    """One thing that could still be said of a finding, and the grade it would have then.

    Args:
        said: what would have been said, for example ``the probe went through``.
        grade: the grade that would count then (the inspector's own counts, where there is one).
        unproven: the metal would still not be reached.
        rules: ids of the rules that would fire.
    """

    said: str
    grade: Grade
    unproven: bool
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WallLoss:
    """How much of a wall is gone, and how well that is known.

    Args:
        percent: of the nominal thickness; negative where it reads thicker than new.
        low: the least it can be within the gauge's uncertainty.
        high: the most it can be.
        measured_mm: the reading; None where only a share was said.
        nominal_mm: the thickness when new; None where only a share was said.
        nominal_from: ``said``, ``map`` or empty.
        uncertainty_mm: of the reading, plus or minus.
        straddles: names of the table's limits that lie between ``low`` and ``high``.
    """

    percent: float
    low: float
    high: float
    measured_mm: float | None = None
    nominal_mm: float | None = None
    nominal_from: str = ""
    uncertainty_mm: float = 0.0
    straddles: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why a finding has its grade.

    Args:
        entry: its id.
        fired: the rules that fired, the base rule first.
        told: what each of them did, as a sentence beside the rule of the same position.
        what_ifs: what would have changed the grade, the worst first.
        loss: the wall loss, where one is known.
    """

    entry: str
    fired: tuple[Rule, ...]
    told: tuple[str, ...]
    what_ifs: tuple[WhatIf, ...] = ()
    loss: WallLoss | None = None


@dataclass(frozen=True, slots=True)
class Swing:
    """How the verdict would change if one open place or entry turned out to be the worst it can be,
    or nothing at all.

    Args:
        gap: what is open.
        supposed: the worst that is supposed of it, for example ``a hole there``.
        if_bad: drive, work and tier then.
        if_good: drive, work and tier if it turned out to be clear.
        text: the same as a sentence that names the place.
        then: what of that sentence tells both outcomes, without the place.
    """

    gap: Gap
    supposed: str
    if_bad: tuple[str, str, str]
    if_good: tuple[str, str, str]
    text: str
    then: str = ""


@dataclass(frozen=True, slots=True)
class PlaceState:
    """One place of the map, all that was said of it together.

    Args:
        zone: its id.
        side: None where the zone comes once.
        seen: what was looked at there.
        grade: the worst of its findings, each by the worse of its computed and its spoken grade;
            None where there is none.
        entries: ids of its findings, the worst first.
        unproven: one of the findings that give the grade has not been proven.
        refused: it could not be looked at, and somebody said why.
        coating: its coating on the published scales, where a rusted share was said.
    """

    zone: str
    side: str | None
    seen: Seen
    grade: Grade | None = None
    entries: tuple[str, ...] = ()
    unproven: bool = False
    refused: bool = False
    coating: CoatingRating | None = None


URGENCIES = ("now", "repair", "treat", "look")
"""How soon work is due, the soonest first."""


@dataclass(frozen=True, slots=True)
class WorkItem:
    """Something to be done, for one entry or one place.

    Args:
        urgency: ``now`` (before it is moved), ``repair``, ``treat`` or ``look``.
        place: in words.
        what: what is the matter there, in words; for a place nobody saw, what to look for.
        steps: what to do, in order.
        source: where the steps come from, or ``common practice, no source``.
        entry: the finding's id; empty for a place.
        zone: its id; ``unplaced`` where nobody said.
        side: None where the zone comes once, or nobody said.
        cautions: to be heeded while doing it.
    """

    urgency: str
    place: str
    what: str
    steps: tuple[str, ...]
    source: str
    entry: str = ""
    zone: str = "unplaced"
    side: str | None = None
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Pointer:
    """A public rule that an inspector of a region would look up; never a pass or a fail.

    Args:
        region: its short name, for example ``uk``.
        document: what the rule stands in.
        item: which part of it.
        about: what it is about, in a sentence of ours.
        where: an address at which it can be read; may be empty.
    """

    region: str
    document: str
    item: str
    about: str
    where: str = ""


@dataclass(frozen=True, slots=True)
class Advice:
    """What follows from a whole inspection; whatever was not worked out is empty.

    Args:
        places: every place of the map, in its order.
        explanations: why each finding has its grade, by its id.
        swings: which single open place or entry could change the verdict.
        work: what to do, in the order in which it should be done.
    """

    places: tuple[PlaceState, ...] = ()
    explanations: Mapping[str, Explanation] = field(default_factory=dict)
    swings: tuple[Swing, ...] = ()
    work: tuple[WorkItem, ...] = ()
