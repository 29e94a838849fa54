"""What may make a comparison worth less: another vehicle, another map, other rules, the wrong order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from voicelog.domain.comparison import Inspected
from voicelog.domain.grade import RuleSet
from voicelog.domain.inert import inert
from voicelog.domain.zone import Rails, Zone
from voicelog.findings.over_time.rate import years_between
from voicelog.findings.places import title_in_words

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
    told = "; ".join(
        f"{name}: {a.replace('-', ' ')} then, {b.replace('-', ' ')} now"
        for name, order in _WORST_FIRST.items()
        if order.index(a := getattr(then, name)) < order.index(b := getattr(now, name))
    )
    if told and still_open:
        findings = "1 finding" if still_open == 1 else f"{still_open} findings"
        yield (
            f"The answers sound milder ({told}), but {findings} of then may be as bad as then or worse"
            ": each log answers for what it saw itself"
        )


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
        yield "Both are the same log"
        return
    years = years_between(older.at, newer.at)
    if years is not None and years < 0:
        yield (
            "The log named first is the later one: then and now are as you named them; turn the two "
            "round if that is not what you meant"
        )


def _vehicles(older: Inspected, newer: Inspected) -> Iterator[str]:
    if older.vin and newer.vin:
        if older.vin.upper() != newer.vin.upper():
            vins = f"{_short(older.vin)} then, {_short(newer.vin)} now"
            yield f"The VINs differ ({vins}): these may be two vehicles"
    elif not older.subject.strip() or not newer.subject.strip():
        yield "Nothing in the logs says that they are about one vehicle"
    elif older.subject.split() != newer.subject.split():
        subjects = f"{_short(older.subject)} then, {_short(newer.subject)} now"
        yield f"The logs name what was inspected differently ({subjects}), and no VIN tells"


def _maps(older: Inspected, newer: Inspected) -> Iterator[str]:
    """Places of the same id are compared even so; the others are named."""
    then, now = older.zone_map.zones, newer.zone_map.zones
    if older.zone_map.id != newer.zone_map.id:
        maps = f"{_short(older.zone_map.id)} then, {_short(newer.zone_map.id)} now"
        yield f"The maps differ ({maps}): only places of the same name are compared"
    for zones, others, when in ((then, now, "older"), (now, then, "newer")):
        if lone := [zone for name, zone in zones.items() if name not in others]:
            yield f"Only on the {when} map: {_titles(lone)}"
    if changed := _changed(then, now):
        yield f"These places are described differently on the two maps: {_titles(changed)}"


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
        yield f"The rails are said to be {older.rails} then and {newer.rails} now"


def _rules(older: Inspected, newer: Inspected) -> Iterator[str]:
    if same_rules(older.rules, newer.rules):
        return
    if older.regraded is None:
        yield "The rules differ: each log is graded by its own, so a grade may differ without cause"
        return
    yield (
        "The rules differ: here the older findings are graded by the newer log's rules, the older "
        "log itself stays as it is"
    )
    then, by_new = older.inspection.verdict, older.regraded.verdict
    if (then.drive, then.work, then.tier) != (by_new.drive, by_new.work, by_new.tier):
        answers = ", ".join(a.replace("-", " ") for a in (by_new.drive, by_new.work, by_new.tier))
        yield f"By the newer rules the older log's answers would be: {answers}"


def _titles(zones: Iterable[Zone]) -> str:
    return inert(", ".join(title_in_words(zone) for zone in zones), 600)


def _short(text: str) -> str:
    return f"“{inert(text, _SHOWN)}”"
