"""May it be driven: what was found against it, or what nobody has seen yet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import Grade
from voicelog.domain.recovery import lines_named
from voicelog.domain.zone import Rails, Role, ZoneMap
from voicelog.findings.coverage import Coverage, places
from voicelog.findings.facts_of import FAILED, known_zone
from voicelog.findings.grading import worst_said
from voicelog.findings.places import fault_in_words, place_in_words
from voicelog.findings.tasks import Task, lost_in
from voicelog.tongue import NOTHING, Worded, joined, worded

DO_NOT_DRIVE = "do-not-drive"
NO_DANGER_FOUND = "no-danger-found-where-examined"
NOT_ENOUGH_SEEN = "not-enough-seen"


def drive(
    live: Sequence[Finding],
    tasks: Sequence[Task],
    coverage: Coverage,
    zone_map: ZoneMap,
    rails: Rails,
    lost: Sequence[int] = (),
) -> tuple[str, tuple[str, ...]]:
    """The answer and its reasons.

    Do not drive: anything unsafe; a main member beyond repair, by findings that may each be less; a
    fluid line that needs repair, until it has been assessed; a hole in what closes the cabin, until
    it is sealed (Virginia 19VAC30-70-640; nobody can drive without being aboard). Not enough seen: a
    critical mounting nobody looked at, a hidden cavity nobody saw inside, a fault said without its
    place, or rot in a main member whose distance from a mounting would decide; or
    lines of the log are lost, since what was said there may have been the worst of all.

    Args:
        live: the entries that hold.
        tasks: those of them that need repair.
        coverage: what was looked at.
        zone_map: the places.
        rails: how the rails are made.
        lost: numbers of the lines of the log that could not be recovered.
    """
    dangers = (*_dangers(live, zone_map), *_beyond_repair(tasks, zone_map))
    if dangers:
        return DO_NOT_DRIVE, dangers
    gaps = (*_lost(lost), *unseen(live, coverage, zone_map, rails))
    if gaps:
        return NOT_ENOUGH_SEEN, gaps
    looked = sum(seen.looked for seen in coverage.seen.values())
    return NO_DANGER_FOUND, (
        worded(
            "No danger was found in the {looked} places examined; the others stay unknown",
            looked=looked,
        ),
    )


def _lost(lost: Sequence[int]) -> Iterator[str]:
    """One sentence for all lines of the log that nobody can read any more."""
    if lost:
        yield worded(
            "Not enough seen: {lines} of the damaged log could not be recovered in full",
            lines=lines_named(lost),
        )


def _dangers(live: Iterable[Finding], zone_map: ZoneMap) -> Iterator[str]:
    """One sentence for every finding that speaks against driving."""
    for finding in live:
        order = order_of(finding, zone_map)
        if order:
            entry = finding.entry
            place, fault = place_in_words(entry.slots, zone_map), fault_in_words(entry)
            yield joined("", (order, ": ", place, ", ", fault, f" ({entry.id})"))


def _beyond_repair(tasks: Sequence[Task], zone_map: ZoneMap) -> Iterator[str]:
    """One sentence for every main member that is lost although no finding forbids driving by itself."""
    for loss in lost_in(tasks):
        if not any(order_of(task.finding, zone_map) for task in loss.tasks):
            yield worded("Do not drive: {loss}", loss=loss.told(zone_map))


def order_of(finding: Finding, zone_map: ZoneMap) -> Worded:
    """What a finding forbids, in words; empty when nothing.

    Args:
        finding: one that holds.
        zone_map: the places.
    """
    grade, zone = worst_said(finding), known_zone(finding.entry.slots, zone_map)
    if grade is Grade.UNSAFE:
        said = finding.spoken_grade is Grade.UNSAFE
        return worded("Do not drive, as the inspector said") if said else worded("Do not drive")
    if grade is None or zone is None:
        return NOTHING
    if zone.role is Role.FLUID_LINE and grade is Grade.REPAIR:
        return worded("No driving until it has been assessed")
    if zone.cabin and _is_open(finding):
        return worded("No driving with people aboard until it is sealed against exhaust")
    return NOTHING


def _is_open(finding: Finding) -> bool:
    slots = finding.entry.slots
    return slots.get("condition") == "hole" or slots.get("probe") == "through"


def unseen(
    live: Iterable[Finding], coverage: Coverage, zone_map: ZoneMap, rails: Rails
) -> Iterator[str]:
    """What keeps the tool from saying that no danger was found, as sentences.

    Args:
        live: the entries that hold; only those that :func:`undecided` tells of count.
        coverage: what was looked at.
        zone_map: the places.
        rails: how the rails are made.
    """
    walk = list(places(zone_map))
    critical = [place for zone, place in walk if zone.role is Role.CRITICAL]
    cavities = [place for zone, place in walk if zone.hides_cavity(rails)]
    unlooked = sum(not coverage.seen[place].looked for place in critical)
    shut = sum(not coverage.seen[place].inside for place in cavities)
    if unlooked:
        yield worded(
            "Not enough seen: {unlooked} of {there} critical mountings not looked at",
            unlooked=unlooked,
            there=len(critical),
        )
    if shut:
        yield worded(
            "Not enough seen: {shut} of {there} hidden cavities not seen inside",
            shut=shut,
            there=len(cavities),
        )
    for finding in live:
        if what := undecided(finding, zone_map):
            place = place_in_words(finding.entry.slots, zone_map)
            fault = fault_in_words(finding.entry)
            named = joined(", ", (place, fault) if "zone" in finding.entry.slots else (fault,))
            yield worded(
                "Not enough seen: {fault}, {open} ({entry})",
                fault=named,
                open=what,
                entry=finding.entry.id,
            )


def undecided(finding: Finding, zone_map: ZoneMap) -> str:
    """What was not said of it and would decide whether it forbids driving; empty where nothing.

    That is the place of a fault, and how far rot in a main member, or in a sill that carries load, is
    from the nearest mounting: where the shipped table asks for it.

    Args:
        finding: one that holds.
        zone_map: the places.
    """
    entry, zone = finding.entry, known_zone(finding.entry.slots, zone_map)
    if entry.kind is not Kind.FINDING:
        return worded("its place was not said") if entry.unplaced else ""
    if not (_is_open(finding) or _gave_way(finding)) or "mount_distance_mm" in entry.slots:
        return ""
    if zone is None:
        return worded("its place is not known")
    asked = zone.main or (zone.id == "sill" and zone.role is Role.LOAD_PATH)
    return worded("its distance from the nearest mounting was not said") if asked else ""


def _gave_way(finding: Finding) -> bool:
    slots = finding.entry.slots
    return slots.get("condition") == "soft-spot" or slots.get("probe") in FAILED
