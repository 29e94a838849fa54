"""Two inspections of one vehicle, side by side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from voicelog.domain.entry import Inspection
from voicelog.domain.grade import Grade, RuleSet
from voicelog.domain.zone import Rails, ZoneMap

CHANGES = ("appeared", "worse", "grew", "same", "better", "repaired", "gone", "not-looked-at-again")
"""What can have become of a finding: ``worse`` by its grade or further along the same course,
``grew`` by a measure, ``better`` where less was said than then (which heals nothing), ``repaired``
where the newer log tells of a repair or a clear look that touched the metal, ``gone`` where the place
was looked at again and nothing was said of it."""

WORST_FIRST = (
    "worse", "appeared", "grew", "not-looked-at-again", "gone", "better", "repaired", "same",
)  # fmt: skip
"""The changes in the order in which they are told."""


_HAIR = 1e-9
"""3.0 less 2.8 is a hair more than 0.2 to a computer."""


@dataclass(frozen=True, slots=True)
class Inspected:
    """One of the two inspections that are compared.

    Args:
        id: of its log.
        at: when it began, RFC 3339: when the log was opened, or what it heard was recorded.
        inspection: its facts, folded with its own rules.
        zone_map: its own map.
        rules: its own severity table.
        rails: how its rails were said to be made.
        subject: what was inspected, as named; may be empty.
        vin: as spelled; may be empty.
        regraded: the same facts graded by the other log's rules, where those differ; the older log
            is compared by it.
    """

    id: str
    at: str
    inspection: Inspection
    zone_map: ZoneMap
    rules: RuleSet
    rails: Rails = Rails.MIXED
    subject: str = ""
    vin: str = ""
    regraded: Inspection | None = None


@dataclass(frozen=True, slots=True)
class Rate:
    """Wall loss between two readings of one place.

    Args:
        older_mm: thickness then.
        newer_mm: thickness now.
        years: between them, of 365.25 days.
        mm_per_year: what was lost a year; negative where it reads thicker now.
        uncertainty_mm_per_year: from the gauge's uncertainty at both readings, plus or minus.
        years_left: until the shop's wall-loss limit at this rate, where it is a loss beyond its
            uncertainty and the nominal thickness is known; None otherwise. 0 where the limit is
            reached.
        years_left_least: the same at the fastest rate and the thinnest wall that the gauge's
            uncertainty leaves open.
    """

    older_mm: float
    newer_mm: float
    years: float
    mm_per_year: float
    uncertainty_mm_per_year: float
    years_left: float | None = None
    years_left_least: float | None = None

    @property
    def is_loss(self) -> bool:
        """True where more was lost than the gauge's uncertainty at both readings explains."""
        return self.mm_per_year > self.uncertainty_mm_per_year + _HAIR


@dataclass(frozen=True, slots=True)
class Difference:
    """What became of one finding, or one place.

    Args:
        change: one of :data:`CHANGES`.
        zone: its id.
        side: None where the zone comes once, or nobody said.
        text: the same as a sentence that names the place.
        older: ids of the entries of the older log it rests on.
        newer: ids of the entries of the newer log it rests on.
        rate: where thickness was read twice.
        then: the worst grade then; None where nothing was found.
        now: the worst grade now; None where nothing was found, or nobody looked.
    """

    change: str
    zone: str
    side: str | None
    text: str
    older: tuple[str, ...] = ()
    newer: tuple[str, ...] = ()
    rate: Rate | None = None
    then: Grade | None = None
    now: Grade | None = None


@dataclass(frozen=True, slots=True)
class Standing:
    """What one of the two logs is about, and its own verdict by its own rules."""

    subject: str = ""
    vin: str = ""
    map: str = ""
    drive: str = ""
    work: str = ""
    tier: str = ""


@dataclass(frozen=True, slots=True)
class Comparison:
    """What changed from an older log to a newer one.

    Args:
        older: id of the older log.
        newer: id of the newer log.
        older_at: when it began, RFC 3339.
        newer_at: when it began, RFC 3339.
        differences: the worst first, in the order of :data:`WORST_FIRST`, then by grade.
        warnings: sentences: another vehicle, another map, other rules, the order turned round.
        then: vehicle and verdict of the older log.
        now: vehicle and verdict of the newer log.
        places: how many places of both maps were looked at ``both`` times, only ``then``, only
            ``now``, and ``never``.
    """

    older: str
    newer: str
    older_at: str
    newer_at: str
    differences: tuple[Difference, ...]
    warnings: tuple[str, ...] = ()
    then: Standing = Standing()
    now: Standing = Standing()
    places: Mapping[str, int] | None = None

    def counts(self) -> dict[str, int]:
        """How many differences of each kind there are, the worst kind first; zeros left out."""
        found = {
            change: sum(d.change == change for d in self.differences) for change in WORST_FIRST
        }
        return {change: count for change, count in found.items() if count}
