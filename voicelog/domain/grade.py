"""Grades, the rules that give them, and the verdict over a whole frame."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class Grade(StrEnum):
    """How bad a finding is, from marks to danger. Compare with :meth:`rank`."""

    COSMETIC = "cosmetic"
    TREAT = "treat"
    REPAIR = "repair"
    UNSAFE = "unsafe"

    @property
    def rank(self) -> int:
        """0 for cosmetic to 3 for unsafe."""
        return _RANKS[self]

    def worse(self, steps: int = 1) -> Grade:
        """The grade so many steps worse, never beyond unsafe."""
        return list(Grade)[min(self.rank + steps, len(Grade) - 1)]

    @staticmethod
    def worst(*grades: Grade) -> Grade:
        """The worst of the grades given (at least one)."""
        return max(grades, key=lambda grade: grade.rank)


_RANKS = {grade: rank for rank, grade in enumerate(Grade)}  # asked for thousands of times a log


@dataclass(frozen=True, slots=True)
class Rule:
    """One line of the severity table.

    A finding's grade is that of the first rule whose ``when`` fits it (``base`` rules), made worse
    by every fitting ``at_least``, then ``worsen`` rule. See ``shared/GRAMMAR.md`` for the keys of
    ``when``.

    Args:
        id: short name, printed with every grade it gave.
        text: the rule in a plain sentence.
        source: where it comes from, or ``common practice, no source``.
        when: slot or fact name to the values that fit; an empty mapping fits everything.
        grade: the grade of a base rule.
        at_least: the grade this rule never lets a finding stay below.
        worsen: steps worse, but no worse than a soft probe would make it.
        unproven: ``yes``, ``no``, or ``unless-firm`` (proven only by a firm probe).
        caution: what to say at the finding, if anything.
    """

    id: str
    text: str
    source: str
    when: Mapping[str, object] = field(default_factory=dict)
    grade: Grade | None = None
    at_least: Grade | None = None
    worsen: int = 0
    unproven: str = "no"
    caution: str = ""


@dataclass(frozen=True, slots=True)
class WorkRule:
    """What the trade does about a finding, or about a place that is open. The first that fits counts.

    Args:
        id: short name.
        steps: what to do, in order, as sentences.
        source: where it comes from, or ``common practice, no source``.
        when: as a rule's, and ``grade``, ``unproven``, ``rot``, ``open`` (``shared/GRAMMAR.md``).
        prove: steps that come first while the metal has not been reached.
        urgency: ``now``, ``repair``, ``treat`` or ``look``; empty leaves it to the grade. It never
            makes anything less urgent than its grade does.
        cautions: to be heeded while doing it.
    """

    id: str
    steps: tuple[str, ...]
    source: str
    when: Mapping[str, object] = field(default_factory=dict)
    prove: tuple[str, ...] = ()
    urgency: str = ""
    cautions: tuple[str, ...] = ()


REGIONS: Mapping[str, str] = {
    "au": "Australia",
    "ca": "Canada",
    "eu": "European Union",
    "nz": "New Zealand",
    "uk": "United Kingdom",
    "us": "United States",
}
"""Short names of the regions whose public rules the program points at."""


@dataclass(frozen=True, slots=True)
class PointerRule:
    """Which public rule an inspector of a region would look up for a finding.

    Args:
        region: one of :data:`REGIONS`.
        document: what the rule stands in.
        item: which part of it.
        about: what it is about, in a sentence of ours.
        where: an address at which it can be read; may be empty.
        read: how its number was checked: ``issuer`` (a page of whoever issued it) or ``secondary``.
        when: as a work rule's, without ``open``.
    """

    region: str
    document: str
    item: str
    about: str
    where: str
    read: str
    when: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RuleSet:
    """The severity table and the shop's own limits.

    Args:
        rules: in the order in which they are tried.
        limits: named numbers the rules use, for example ``mount_distance_mm``.
        cautions: sentences said at the start of every inspection.
        work: what is done about findings, in the order in which it is tried; none in older tables.
        work_cautions: sentences that stand with every list of work.
        pointers: public rules to look up. They are the reading program's advice and no part of
            grading, so a log's own table has none: :func:`voicelog.config.pointers.with_pointers`.
    """

    id: str
    rules: tuple[Rule, ...]
    limits: Mapping[str, float]
    cautions: tuple[str, ...] = ()
    work: tuple[WorkRule, ...] = ()
    work_cautions: tuple[str, ...] = ()
    pointers: tuple[PointerRule, ...] = ()


@dataclass(frozen=True, slots=True)
class Gap:
    """A place that could still change the verdict, and why.

    Args:
        why: ``not-seen`` (nobody looked), ``cavity-not-seen`` (its inside), ``unproven`` (metal not
            reached), ``not-probed`` (looked at only) or ``doubtful`` (maybe misheard).
        entry: the entry concerned, where there is one.
    """

    zone: str
    why: str
    side: str | None = None
    face: str | None = None
    entry: str | None = None
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """Three answers and an overall tier; ``because`` gives the reasons as plain sentences.

    Args:
        drive: ``do-not-drive``, ``no-danger-found-where-examined`` or ``not-enough-seen``.
        work: ``none``, ``surface``, ``local``, ``major`` or ``replacement-or-specialist``.
        tier: ``sound``, ``fair``, ``repairable``, ``beyond-repair`` or ``unknown`` (too little was
            seen, and nothing found needs repair).
        could_change: the unseen and unproven places.
    """

    drive: str
    work: str
    tier: str
    could_change: tuple[Gap, ...] = ()
    because: tuple[str, ...] = ()

    @property
    def provisional(self) -> bool:
        """True while a place or entry is open that could still change it."""
        return bool(self.could_change)
