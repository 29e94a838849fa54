"""Why a finding has its grade, and which single further thing would have changed it."""

from __future__ import annotations

from collections.abc import Iterator

from voicelog.domain.advice import Explanation, WallLoss, WhatIf
from voicelog.domain.entry import Entry, Finding, Kind, amended
from voicelog.domain.grade import Grade, Rule, RuleSet
from voicelog.domain.zone import ZoneMap
from voicelog.findings.facts_of import FAILED, known_zone
from voicelog.findings.grading import Draft, Grader, as_read
from voicelog.findings.places import title_in_words
from voicelog.findings.thickness import loss_of
from voicelog.findings.what_if.supposing import Supposing
from voicelog.tongue import Worded, joined, worded, worded_many


def explain(finding: Finding, zone_map: ZoneMap, rules: RuleSet) -> Explanation:
    """As :meth:`Explainer.explain`; for more than one finding make an :class:`Explainer` once.

    Args:
        finding: as the ledger gives it.
        zone_map: the log's own map.
        rules: the log's own severity table.

    Raises:
        GrammarFault: the table cannot be used.
    """
    return Explainer(zone_map, rules).explain(finding)


class Explainer:
    """Explains the findings of one log.

    Args:
        zone_map: the log's own map.
        rules: the log's own severity table.

    Raises:
        GrammarFault: the table cannot be used.
    """

    def __init__(self, zone_map: ZoneMap, rules: RuleSet) -> None:
        self._zone_map = zone_map
        self._limits = rules.limits
        self._grader = Grader(zone_map, rules)
        self._supposing = Supposing(zone_map, rules.limits, self._grader.landmarks)

    def explain(self, finding: Finding) -> Explanation:
        """The rules that fired, what each did, and what would have changed the grade.

        A finding whose place is open is explained at the worst place it may be. An entry without a
        grade has nothing to explain but its wall loss.

        Args:
            finding: as the ledger gives it.
        """
        entry = as_read(finding)
        loss = loss_of(entry.slots, known_zone(entry.slots, self._zone_map), self._limits)
        if entry.kind is not Kind.FINDING:
            return Explanation(entry.id, (), (), (), loss)
        draft = self._grader.draft(entry, finding.words)
        told = tuple(
            joined(" ", (self._told(rule, draft, entry), *_hangs_on_gauge(rule, loss)))
            for rule in draft.fired
        )
        return Explanation(entry.id, draft.fired, told, self.what_ifs(finding), loss)

    def what_ifs(self, finding: Finding) -> tuple[WhatIf, ...]:
        """What would have changed its grade, or whether it is proven: the worst first.

        Args:
            finding: as the ledger gives it; nothing would change an entry without a grade.
        """
        if finding.entry.kind is not Kind.FINDING:
            return ()
        found = list(self._changing(as_read(finding), finding.words))
        return tuple(sorted(found, key=lambda one: (-one.grade.rank, not one.unproven)))

    def _changing(self, entry: Entry, words: str) -> Iterator[WhatIf]:
        now = self._grader.grade(entry, words)
        told: set[tuple[str, Grade, bool]] = set()
        for supposed in self._supposing.all_of(entry):
            then = self._grader.grade(amended(entry, supposed.change), words)
            outcome = (supposed.row or supposed.said, then.grade, then.unproven)
            if outcome[1:] == (now.grade, now.unproven) or outcome in told:
                continue
            told.add(outcome)
            yield WhatIf(supposed.said, then.grade, then.unproven, then.rules)

    def _told(self, rule: Rule, draft: Draft, entry: Entry) -> str:
        if rule.grade is not None:
            given = worded("It gives {grade}", grade=rule.grade)
            return _sentence(given, *self._at_worst(draft, entry), *_proven(rule, draft))
        if rule.at_least is not None:
            return _kept_up(rule, rule.at_least, draft)
        return _made_worse(rule, draft)

    def _at_worst(self, draft: Draft, entry: Entry) -> Iterator[str]:
        """Where it was graded, when nobody said where it is."""
        if known_zone(entry.slots, self._zone_map) is not None:
            return
        zone = self._zone_map.zones.get(draft.facts.zone)
        worst = worded("structure") if zone is None else title_in_words(zone)
        yield worded("at the worst place it may be ({place})", place=worst)


def _sentence(*parts: str) -> Worded:
    return joined("", (joined(", ", parts), "."))


def _proven(rule: Rule, draft: Draft) -> Iterator[str]:
    if rule.unproven == "no" or draft.facts.probe in FAILED:
        return
    if rule.unproven == "yes":
        yield worded("unproven")
    elif draft.facts.probe == "firm":
        yield worded("proven by the firm probe")
    else:
        yield worded("unproven until a probe finds firm metal")


def _kept_up(rule: Rule, least: Grade, draft: Draft) -> str:
    proven = _proven(rule, draft)
    if least is Grade.COSMETIC:
        told = (
            worded("It gives a caution and changes no grade")
            if rule.caution
            else worded("It changes no grade")
        )
        return _sentence(told, *proven)
    caution = (worded("and gives a caution"),) if rule.caution else ()
    if _before(rule, draft).rank >= least.rank:
        told = worded("It asks for {grade} at the least, as it is already", grade=least)
        return _sentence(told, *caution, *proven)
    return _sentence(worded("It makes it {grade}", grade=least), *caution, *proven)


def _before(rule: Rule, draft: Draft) -> Grade:
    """The grade that the rules which fired before this one had come to."""
    earlier = draft.fired[: draft.fired.index(rule)]
    grades = {grade for one in earlier for grade in (one.grade, one.at_least) if grade is not None}
    return Grade.worst(Grade.COSMETIC, *grades)


def _hangs_on_gauge(rule: Rule, loss: WallLoss | None) -> Iterator[str]:
    """That a rule fired although the reading cannot decide it."""
    if loss is not None and rule.when.get("loss_at_least") in loss.straddles:
        off = f"{loss.uncertainty_mm:g}"
        yield worded("Its limit lies within the gauge's ±{off} mm.", off=off)


def _made_worse(rule: Rule, draft: Draft) -> str:
    if draft.grade is draft.floored:
        told = worded("It makes it no worse: it is as bad as a soft probe would make it")
    else:
        told = worded_many(
            "It makes it one step worse, as far as a soft probe would",
            "It makes it {count} steps worse, as far as a soft probe would",
            rule.worsen,
        )
    return _sentence(told, *_proven(rule, draft))
