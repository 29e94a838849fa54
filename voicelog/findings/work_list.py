"""What should be done about a whole inspection, in the order in which it should be done."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from voicelog.domain.advice import URGENCIES, WorkItem
from voicelog.domain.entry import Entry, Finding, Inspection
from voicelog.domain.grade import Grade, RuleSet, WorkRule
from voicelog.domain.inert import inert
from voicelog.domain.slot import Slots
from voicelog.domain.zone import Rails, Role, ZoneMap
from voicelog.findings.advising import Case, Cases, Table
from voicelog.findings.drive import order_of
from voicelog.findings.grading import worst_said
from voicelog.findings.open_places import OpenPlace, open_entries, open_places
from voicelog.findings.places import UNPLACED, fault_in_words, place_in_words
from voicelog.findings.tasks import lost_in, tasks_of
from voicelog.findings.wording import what_in_words
from voicelog.tongue import NOTHING, Worded, joined, to_word, worded

HALT = to_word("Do not drive or tow this vehicle.")
"""Stands with whatever has to be done before the vehicle is moved; common practice, no source."""

NO_SOURCE = to_word("common practice, no source")

_URGENCY = {Grade.UNSAFE: "now", Grade.REPAIR: "repair", Grade.TREAT: "treat"}
_PLAIN = {
    Grade.UNSAFE: to_word(
        "Have it assessed and repaired by somebody qualified before the vehicle is moved."
    ),
    Grade.REPAIR: to_word("Have it repaired by somebody qualified."),
    Grade.TREAT: to_word("Clean, treat and coat it."),
    Grade.COSMETIC: to_word("Look at it again."),
}
"""What is said where a table tells of no work, as older tables do."""
_PROVE = to_word("Find out first what the metal is like: it has not been reached.")
_LOOK = to_word("Look at it, or listen to what was said of it.")
_HEDGED = to_word("Look again, to be certain: it was said with a hedge.")
_BEYOND = to_word(
    "Repair nothing here before a structural specialist has decided about the whole vehicle: {what}."
)
"""Comes first where findings together are beyond repair, whatever a rule says of each."""


def work_list(
    inspection: Inspection, zone_map: ZoneMap, rules: RuleSet, rails: Rails
) -> tuple[WorkItem, ...]:
    """One item for every live finding that needs something, and for every place left open.

    What has to be done before the vehicle is moved comes first, which is whatever forbids driving; then repairs, treatment, and what
    should be looked at; within each, critical mountings and faults whose place nobody knows, then the
    order of the map. A finding counts by the worse of its computed and its spoken grade. Cosmetic ones
    are left out once their metal was reached, unless the table gives them an urgency. Where left and
    right are open alike, they are one item.

    Args:
        inspection: the log, folded.
        zone_map: its places.
        rules: its severity table; one that tells of no work gives a plain sentence for each grade.
        rails: how the vehicle's rails are made; decides which places hide a cavity.

    Raises:
        GrammarFault: a work rule asks for something that cannot be tested.
    """
    maker = _Maker(zone_map, rules, inspection)
    findings = (maker.of_finding(finding) for finding in inspection.live)
    items = [
        *(item for item in findings if item is not None),
        *map(maker.of_entry, open_entries(inspection)),
        *map(maker.of_place, open_places(inspection, zone_map, rails)),
    ]
    order = {zone: number for number, zone in enumerate(zone_map.zones)}
    return tuple(sorted(items, key=lambda item: _rank(item, zone_map, order)))


def alike(items: Iterable[WorkItem]) -> tuple[tuple[WorkItem, ...], ...]:
    """The same list with places together that are open in the same way and need the same steps.

    Each group is about one finding, or about one or more places; it stands where its first item did.
    """
    groups: dict[object, list[WorkItem]] = {}
    for item in items:
        shared = (item.urgency, item.what, item.steps, item.source, item.cautions)
        groups.setdefault(item.entry or shared, []).append(item)
    return tuple(map(tuple, groups.values()))


def _rank(item: WorkItem, zone_map: ZoneMap, order: dict[str, int]) -> tuple[int, bool, int]:
    """The soonest first; what may be a critical mounting first; then along the map."""
    zone = zone_map.zones.get(item.zone)
    lesser = zone is not None and zone.role is not Role.CRITICAL
    return URGENCIES.index(item.urgency), lesser, order.get(item.zone, len(order))


@dataclass(frozen=True, slots=True)
class _Told:
    """Steps, cautions and sources of one work rule or of several."""

    steps: tuple[str, ...]
    source: str
    cautions: tuple[str, ...] = ()


class _Maker:
    """Makes items of one inspection, on one map by one table."""

    def __init__(self, zone_map: ZoneMap, rules: RuleSet, inspection: Inspection) -> None:
        self._zone_map = zone_map
        tasks = tuple(tasks_of(inspection.live, zone_map, rules.limits))
        self._lost = {name: loss for loss in lost_in(tasks) for name in loss.ids}  # together last
        self._cases = Cases(zone_map, rules.limits)
        self._table = Table([(rule.id, rule) for rule in rules.work], rules.limits)

    def of_finding(self, finding: Finding) -> WorkItem | None:
        """What to do about a finding; None where it needs nothing."""
        grade = worst_said(finding)
        if grade is None:
            return None
        rule = self._first(self._cases.of_finding(finding))
        order = self._order(finding)
        urgency = "now" if order else _urgency(finding, grade, rule)
        if not urgency:
            return None
        told = _told(finding, grade, rule)
        steps = (*self._settling(finding.entry), *self._deciding(finding.entry, rule), *told.steps)
        halt = _halting(finding, order or (worded(HALT) if urgency == "now" else NOTHING))
        cautions = (*halt, *finding.cautions, *told.cautions)
        return self._item(
            finding.entry, urgency, _what(finding), _Told(steps, told.source, cautions)
        )

    def of_entry(self, finding: Finding) -> WorkItem:
        """What to do about a doubtful entry that is no finding."""
        return self._item(finding.entry, "look", _what(finding), self._doubtful(finding.entry))

    def of_place(self, place: OpenPlace) -> WorkItem:
        """What to do about a place at which something is open."""
        rules = [
            rule
            for why in place.why
            if (rule := self._first(self._cases.of_place(place.zone, place.side, why))) is not None
        ]
        return WorkItem(
            urgency="look",
            place=_place(place.slots, self._zone_map),
            what=inert(joined("; ", place.told)),
            steps=_once(step for rule in rules for step in rule.steps) or (worded(_LOOK),),
            source="; ".join(_once(rule.source for rule in rules)) or worded(NO_SOURCE),
            zone=place.zone,
            side=place.side,
            cautions=_once(caution for rule in rules for caution in rule.cautions),
        )

    def _item(self, entry: Entry, urgency: str, what: str, told: _Told) -> WorkItem:
        zone, side = entry.slots.get("zone"), entry.slots.get("side")
        return WorkItem(
            urgency=urgency,
            place=_place(entry.slots, self._zone_map),
            what=what,
            steps=_once(told.steps),
            source=inert(told.source),
            entry=entry.id,
            zone=inert(str(zone)) if zone else UNPLACED,
            side=inert(str(side)) if side else None,
            cautions=_once(told.cautions),
        )

    def _order(self, finding: Finding) -> Worded:
        """What forbids driving, as a sentence; empty where nothing does."""
        order = order_of(finding, self._zone_map)
        if order.english.startswith("Do not drive") or finding.entry.id in self._lost:
            return worded(HALT)
        return joined("", (order, ".")) if order else NOTHING

    def _deciding(self, entry: Entry, rule: WorkRule | None) -> tuple[str, ...]:
        """What comes first where the entry is part of what is beyond repair, and no rule tells it."""
        loss = self._lost.get(entry.id)
        if loss is None or (rule is not None and not loss.together):
            return ()
        return (worded(_BEYOND, what=loss.told(self._zone_map)),)

    def _settling(self, entry: Entry) -> tuple[str, ...]:
        """What comes before everything else where it may have been misheard, or was not certain."""
        hedged = entry.slots.get("certainty") == "tentative"
        return (
            *(self._doubtful(entry).steps if entry.doubtful else ()),
            *((worded(_HEDGED),) if hedged else ()),
        )

    def _doubtful(self, entry: Entry) -> _Told:
        rule = self._first(self._cases.of_place(str(entry.slots.get("zone", "")), None, "doubtful"))
        return (
            _Told((worded(_LOOK),), worded(NO_SOURCE))
            if rule is None
            else _Told(rule.steps, rule.source)
        )

    def _first(self, case: Case) -> WorkRule | None:
        return next(self._table.fitting(case), None)


def _urgency(finding: Finding, grade: Grade, rule: WorkRule | None) -> str:
    """How soon: what the grade says or the rule, whichever is sooner; empty where nothing is due."""
    unsettled = finding.unproven or finding.entry.doubtful
    by_grade = _URGENCY.get(grade, "look" if unsettled else "")
    given = [one for one in (by_grade, rule.urgency if rule else "") if one]
    return min(given, key=URGENCIES.index, default="")


def _told(finding: Finding, grade: Grade, rule: WorkRule | None) -> _Told:
    """The rule's steps, those that prove it first while its metal was not reached."""
    if rule is None:
        steps = (worded(_PLAIN[grade]),)
        return _Told(((worded(_PROVE),) if finding.unproven else ()) + steps, worded(NO_SOURCE))
    first = (rule.prove or (worded(_PROVE),)) if finding.unproven else ()
    return _Told((*first, *rule.steps), rule.source, rule.cautions)


def _halting(finding: Finding, order: Worded) -> tuple[str, ...]:
    """What forbids driving, unless a rule that fired gives it in its own words."""
    start = HALT.removesuffix(".") if order.english == HALT else "no driving"
    told = any(start.lower() in caution.lower() for caution in finding.cautions)
    return (order,) if order and not told else ()


def _what(finding: Finding) -> str:
    """What is the matter, and what keeps it from being certain."""
    entry = finding.entry
    told = [what_in_words(finding) or fault_in_words(entry)]
    told += [worded("metal not reached")] if finding.unproven else []
    told += [worded("maybe misheard")] if entry.doubtful else []
    told += [worded("its place was not said")] if entry.unplaced else []
    return inert(joined(", ", told))


def _place(slots: Slots, zone_map: ZoneMap) -> str:
    return inert(place_in_words(slots, zone_map))


def _once(texts: Iterable[str]) -> tuple[str, ...]:
    """Each text once, harmless: the rules may be those of somebody else's log."""
    return tuple(dict.fromkeys(map(inert, texts)))
