"""What may make a comparison worth less: another vehicle, another map, other rules, the wrong order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from voicelog.domain.comparison import Inspected
from voicelog.domain.grade import RuleSet
from voicelog.domain.inert import inert
from voicelog.domain.zone import Rails, Zone
from voicelog.findings.over_time.rate import years_between
from voicelog.findings.places import title_in_words
from voicelog.tongue import joined, to_word, worded, worded_many

_SHOWN = 60
"""Characters of a subject or VIN that a warning repeats."""


def warnings(older: Inspected, newer: Inspected) -> tuple[str, ...]:
    """Everything to be known before the comparison is read, as sentences."""
    return tuple(
        warning
        for check in (_logs, _vehicles, _maps, _rails, _rules)
        for warning in check(older, newer)
    )


def milder(older: Inspected, newer: Inspected, still_open: int) -> Iterator[str]:
    """What to know where the newer log's answers sound better than the older log's.

    Each log answers for what it saw itself: an answer turns milder where nobody looks again.

    Args:
        older: the inspection that is compared with; its own rules' answers do not count where those
            of the newer log are known.
        newer: the inspection that is compared.
        still_open: how many findings of then may be as bad as they were.
    """
    then, now = (older.regraded or older.inspection).verdict, newer.inspection.verdict
    told = [
        worded(
            "{answer}: {before} then, {after} now",
            answer=worded(_ANSWERS[name]),
            before=a.replace("-", " "),
            after=b.replace("-", " "),
        )
        for name, order in _WORST_FIRST.items()
        if order.index(a := getattr(then, name)) < order.index(b := getattr(now, name))
    ]
    if told and still_open:
        yield worded_many(
            "The answers sound milder ({answers}), but 1 finding of then may be as bad as then or worse"
            ": each log answers for what it saw itself",
            "The answers sound milder ({answers}), but {count} findings of then may be as bad as then or worse"
            ": each log answers for what it saw itself",
            still_open,
            answers=joined("; ", told),
        )


_ANSWERS = {"drive": to_word("drive"), "work": to_word("work"), "tier": to_word("tier")}


_WORST_FIRST: Mapping[str, tuple[str, ...]] = {
    "drive": ("do-not-drive", "not-enough-seen", "no-danger-found-where-examined"),
    "work": ("replacement-or-specialist", "major", "local", "surface", "none"),
    "tier": ("beyond-repair", "repairable", "unknown", "fair", "sound"),
}
"""The answers of a verdict, in the order in which they sound."""


def same_rules(older: RuleSet, newer: RuleSet) -> bool:
    """True where both tables give every finding the same grade; their wording does not matter."""
    return older.limits == newer.limits and _grading(older) == _grading(newer)


def _grading(rules: RuleSet) -> list[object]:
    return [(r.id, r.when, r.grade, r.at_least, r.worsen, r.unproven) for r in rules.rules]


def _logs(older: Inspected, newer: Inspected) -> Iterator[str]:
    """The order is kept as it was asked for: only who asks knows whether a clock was wrong."""
    if older.id == newer.id:
        yield worded("Both are the same log")
        return
    years = years_between(older.at, newer.at)
    if years is not None and years < 0:
        yield worded(
            "The log named first is the later one: then and now are as you named them; turn the two "
            "round if that is not what you meant"
        )


def _vehicles(older: Inspected, newer: Inspected) -> Iterator[str]:
    if older.vin and newer.vin:
        if older.vin.upper() != newer.vin.upper():
            yield worded(
                "The VINs differ ({older} then, {newer} now): these may be two vehicles",
                older=_short(older.vin),
                newer=_short(newer.vin),
            )
    elif not older.subject.strip() or not newer.subject.strip():
        yield worded("Nothing in the logs says that they are about one vehicle")
    elif older.subject.split() != newer.subject.split():
        yield worded(
            "The logs name what was inspected differently ({older} then, {newer} now), and no VIN tells",
            older=_short(older.subject),
            newer=_short(newer.subject),
        )


def _maps(older: Inspected, newer: Inspected) -> Iterator[str]:
    """Places of the same id are compared even so; the others are named."""
    then, now = older.zone_map.zones, newer.zone_map.zones
    if older.zone_map.id != newer.zone_map.id:
        yield worded(
            "The maps differ ({older} then, {newer} now): only places of the same name are compared",
            older=_short(older.zone_map.id),
            newer=_short(newer.zone_map.id),
        )
    for zones, others, text in (
        (then, now, to_word("Only on the older map: {places}")),
        (now, then, to_word("Only on the newer map: {places}")),
    ):
        if lone := [zone for name, zone in zones.items() if name not in others]:
            yield worded(text, places=_titles(lone))
    if changed := _changed(then, now):
        yield worded(
            "These places are described differently on the two maps: {places}",
            places=_titles(changed),
        )


def _changed(then: Mapping[str, Zone], now: Mapping[str, Zone]) -> list[Zone]:
    return [
        zone
        for name, zone in now.items()
        if name in then and _described(zone) != _described(then[name])
    ]


def _described(zone: Zone) -> tuple[object, ...]:
    """What grading and coverage read of a place."""
    return zone.role, zone.layout, zone.cavity, zone.nominal_mm, zone.main


def _rails(older: Inspected, newer: Inspected) -> Iterator[str]:
    known = {older.rails, newer.rails} - {Rails.MIXED}
    if len(known) > 1:
        yield worded(
            "The rails are said to be {older} then and {newer} now",
            older=older.rails,
            newer=newer.rails,
        )


def _rules(older: Inspected, newer: Inspected) -> Iterator[str]:
    if same_rules(older.rules, newer.rules):
        return
    if older.regraded is None:
        yield worded(
            "The rules differ: each log is graded by its own, so a grade may differ without cause"
        )
        return
    yield worded(
        "The rules differ: here the older findings are graded by the newer log's rules, the older "
        "log itself stays as it is"
    )
    then, by_new = older.inspection.verdict, older.regraded.verdict
    if (then.drive, then.work, then.tier) != (by_new.drive, by_new.work, by_new.tier):
        answers = ", ".join(a.replace("-", " ") for a in (by_new.drive, by_new.work, by_new.tier))
        yield worded(
            "By the newer rules the older log's answers would be: {answers}", answers=answers
        )


def _titles(zones: Iterable[Zone]) -> str:
    return inert(", ".join(title_in_words(zone) for zone in zones), 600)


def _short(text: str) -> str:
    return f"“{inert(text, _SHOWN)}”"
